"""The job's last days in the sidebar."""

from datetime import date

from tests.window.rig import Rig


def test_a_day_that_moved_leaves_room_for_what_it_is_the_day_of(job_rig: Rig) -> None:
    job_rig.gestures().set_due(date(2026, 12, 3), "")
    days = [
        figure
        for key, figure in job_rig.window.costs.figures.items()
        if key.startswith("date Order transfers")
    ]
    for figure in days:
        assert figure.before.text().startswith("Wed, Dec 9")
        assert figure.figure.text() == "Mon, Nov 23"
        assert "Mon, Nov 23, 2026: 2 working days too late" in figure.toolTip()
        assert figure.name.fontMetrics().horizontalAdvance("Order transfers") <= figure.name.width()
    assert len(days) == 1
