"""Press temperatures. Source: NIST SP 811, B.8 (°F = °C × 9/5 + 32 exactly)."""

from planner.measures.lengths import LengthUnit


def fahrenheit(celsius: float) -> float:
    return celsius * 9 / 5 + 32


def celsius(fahrenheit: float) -> float:
    return (fahrenheit - 32) * 5 / 9


def in_scale(setting_c: float, unit: LengthUnit) -> str:
    """The scale of a shop that measures in this unit: "290 °F" beside inches, "143 °C" beside millimetres."""
    return f"{fahrenheit(setting_c):.0f} °F" if unit is LengthUnit.INCH else f"{setting_c:.0f} °C"


def format_temperature(setting_c: float) -> str:
    """Both scales, whole degrees, as press displays show them: "290 °F / 143 °C"."""
    return f"{fahrenheit(setting_c):.0f} °F / {setting_c:.0f} °C"
