"""The sheets panel's menus, filled when they open."""

from PySide6.QtWidgets import QMenu

from planner.measures.lengths import format_size
from planner.window.sheet import words
from planner.window.sheet.bench import BenchScene
from planner.window.sheet.commands import Commands
from planner.window.sheet.facts import OfferShown
from planner.window.sheet.hand import Hand
from planner.window.sheet.moves import Side


def fill_sheets(menu: QMenu, bench: BenchScene, offer: OfferShown, hand: Hand) -> None:
    """Sheets that the chosen pieces could go to."""
    own = {piece.ref.sheet for piece in bench.chosen()}
    for at, layout in enumerate(offer.layouts):
        action = menu.addAction(words.sheet_fill(at + 1, bench.fill_percent(offer, layout)))
        action.setEnabled(own != {at})
        action.triggered.connect(lambda _on=False, at=at: hand.send_to(at))
    menu.addSeparator()
    if len(offer.room.sizes) < 2:
        menu.addAction(words.NEW_SHEET).triggered.connect(lambda _on=False: hand.send_to(None))
        return
    for size in offer.room.sizes:
        name = words.new_sheet(format_size(size.width_mm, size.height_mm, bench.unit))
        menu.addAction(name).triggered.connect(lambda _on=False, size=size: hand.send_to(size))


def fill_align(menu: QMenu, commands: Commands) -> None:
    for side in Side:
        menu.addAction(commands[side.value])
    menu.addSeparator()
    menu.addAction(commands["distribute across"])
    menu.addAction(commands["distribute down"])


def fill_zoom(menu: QMenu, commands: Commands) -> None:
    for key in ("fit", "fit chosen", "real size", "in", "out"):
        menu.addAction(commands[key])
    menu.addSeparator()
    for key in ("cloth", "cuts", "measure screen"):
        menu.addAction(commands[key])


def fill_context(
    menu: QMenu, commands: Commands, hand: Hand, bench: BenchScene, offer: OfferShown | None
) -> None:
    """What a right click offers; without an offer nothing can be edited now."""
    if bench.chosen():
        for key in ("settle", "turn", "duplicate", "remove", "pin"):
            if key != "settle" or commands[key].isEnabled():
                menu.addAction(commands[key])
        if offer is not None:
            fill_sheets(menu.addMenu(words.TO_SHEET), bench, offer, hand)
            fill_align(menu.addMenu(words.ALIGN), commands)
        menu.addSeparator()
        menu.addAction(commands["same"])
    menu.addAction(commands["next too"])
    menu.addAction(commands["all"])
    menu.addSeparator()
    fill_zoom(menu, commands)
