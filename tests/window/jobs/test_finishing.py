"""After a job: real figures, what is left over, and the next order that uses it, by keys and mouse."""

from decimal import Decimal
from pathlib import Path

from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QAbstractButton
from pytestqt.qtbot import QtBot

from planner.job.findings import FindingKind
from planner.job.state import JobState
from planner.pricing.actuals import taught
from planner.shop.document import changed
from planner.shop.stock import in_stock
from planner.storage.job_file import SUFFIX, read_job
from planner.window import wording
from planner.window.jobs import words
from planner.window.jobs.after import AfterWindow
from planner.window.jobs.jobs_window import JobsWindow
from planner.window.jobs.stock_window import StockWindow
from tests.window.rig import Rig, click, typed

CTRL, SHIFT = Qt.KeyboardModifier.ControlModifier, Qt.KeyboardModifier.ShiftModifier


def undo(rig: Rig) -> None:
    QTest.keyClick(rig.window, Qt.Key.Key_Z, CTRL)


def after_of(rig: Rig) -> AfterWindow:
    """The window of the job's end, opened by setting the state and following the foot."""
    bar = rig.window.bar
    bar.state.setFocus()
    QTest.keyClick(bar.state, Qt.Key.Key_End)
    QTest.keyClick(bar.state, Qt.Key.Key_Return)
    link = next(
        button
        for button in rig.window.foot.findChildren(QAbstractButton)
        if button.text() == wording.AFTER_JOB_LINK
    )
    click(link)
    return rig.window.findChildren(AfterWindow)[0]


def from_stock(rig: Rig) -> int:
    return sum(taken.count for taken in rig.desk.job.from_stock)


def stock_of(rig: Rig) -> StockWindow:
    rig.window.jobs.finishing.open_stock()
    return rig.window.findChildren(StockWindow)[0]


def arranged(rig: Rig, qtbot: QtBot) -> Rig:
    rig.desk.set_shop(changed(rig.desk.shop, search_s=0.05))
    QTest.keyClick(rig.window, Qt.Key.Key_F5)
    rig.settle(qtbot)
    return rig


def test_a_delivered_job_asks_to_count_what_is_left(job_rig: Rig) -> None:
    window = after_of(job_rig)
    assert job_rig.desk.job.state is JobState.DELIVERED
    assert window.isVisible()
    assert not window.keep.isEnabled()
    assert window.said.text() == words.NOT_KEPT
    window.close()


def test_real_figures_are_kept_with_job_and_shop_book_and_taken_back_together(job_rig: Rig) -> None:
    window = after_of(job_rig)
    typed(window.misprints, "3")
    typed(window.blanks, "1")
    typed(window.minutes, "75")
    typed(window.cost, "180.00")
    click(window.keep)
    kept = job_rig.desk.job.actuals
    assert kept is not None
    assert (kept.misprints, kept.blanks_spoilt, kept.press_min, kept.cost) == (3, 1, 75, Decimal("180.00"))
    # Twenty garments with one print each, and three spoilt ones pressed again.
    assert kept.pressings == 23
    assert kept.planned_min == job_rig.window.plan.press_work.total_min
    assert job_rig.desk.shop.actuals == (kept,)
    assert job_rig.saved_shops[-1].actuals == (kept,)
    typed(window.misprints, "2")
    click(window.keep)
    assert [one.misprints for one in job_rig.desk.shop.actuals] == [2]
    undo(job_rig)
    assert job_rig.desk.shop.actuals == (kept,)
    undo(job_rig)
    assert not job_rig.desk.shop.actuals
    assert job_rig.desk.job.actuals is None
    window.close()


def test_the_difference_to_the_plan_is_said_while_typing(job_rig: Rig) -> None:
    window = after_of(job_rig)
    planned = job_rig.window.plan.press_work.total_min
    typed(window.minutes, str(round(planned) + 10), end=None)
    assert window._figures[words.MINUTES][1].text().startswith("+10 (+")
    assert window._figures[words.COST][1].text() == "as planned"
    window.close()


def test_the_shop_book_learns_once_and_can_forget_it_again(job_rig: Rig) -> None:
    before = job_rig.desk.book
    window = after_of(job_rig)
    assert not window.learn.isEnabled()
    typed(window.misprints, "9")
    typed(window.minutes, "120")
    click(window.keep)
    assert "misprint rate" in window.learn_said.text()
    click(window.learn)
    after = job_rig.desk.book
    expected = taught(before, [changed(after.actuals[0], learnt=False)])
    assert after.spares == expected.spares
    assert after.presses == expected.presses
    assert after.actuals[0].learnt
    assert not window.learn.isEnabled()
    undo(job_rig)
    assert job_rig.desk.book.spares == before.spares
    assert job_rig.desk.book.presses == before.presses
    assert window.learn.isEnabled()
    window.close()


def test_the_shop_book_learns_from_a_job_that_keeps_older_figures(job_rig: Rig) -> None:
    """What is taught goes on from the book of today, not from what the open job was quoted with."""
    job_rig.window.jobs.finishing.set_state(JobState.QUOTED)
    quoted = job_rig.window.plan.quote.total
    book = job_rig.desk.book
    job_rig.desk.set_shop(changed(book, spares=changed(book.spares, misprint_rate=0.02)))
    book = job_rig.desk.book
    window = after_of(job_rig)
    typed(window.misprints, "9")
    typed(window.minutes, "120")
    click(window.keep)
    click(window.learn)
    taught_book = taught(book, [changed(job_rig.desk.book.actuals[0], learnt=False)])
    assert job_rig.desk.book.spares == taught_book.spares
    assert job_rig.desk.book.presses == taught_book.presses
    assert job_rig.window.plan.quote.total == quoted
    job_rig.window.book.use_todays()
    assert job_rig.window.plan.quote.total != quoted
    window.close()


def test_what_the_shop_book_learns_does_not_rewrite_the_plan_of_the_job_it_learnt_from(job_rig: Rig) -> None:
    window = after_of(job_rig)
    typed(window.misprints, "9")
    typed(window.minutes, "120")
    click(window.keep)

    def planned() -> list[str]:
        return [window._figures[name][0].text() for name in (words.MISPRINTS, words.MINUTES, words.PROFIT)]

    before = planned()
    click(window.learn)
    assert job_rig.desk.book.spares.misprint_rate > 0.03
    assert planned() == before
    window.close()


def test_surplus_goes_into_stock_and_the_next_order_uses_it_first(job_rig: Rig, qtbot: QtBot) -> None:
    rig = arranged(job_rig, qtbot)
    assert rig.window.plan.purchase is not None
    bought = rig.window.plan.purchase.orders[0].pieces[0].ordered
    window = after_of(rig)
    typed(window.misprints, "1")
    assert window.left["p1"].value == bought - 21
    click(window.settle)
    heap = rig.desk.shop.left_over[0]
    assert (heap.count, heap.job, heap.offer) == (bought - 21, "Spring fair", "film-sheet")
    assert rig.desk.job.stock_settled
    assert not window.settle.isEnabled()
    undo(rig)
    assert len(rig.desk.shop.left_over) == 0
    assert window.settle.isEnabled()
    click(window.settle)
    window.close()
    rig.answers.save = None
    rig.desk.undo_stack.setClean()
    rig.window.jobs.order_again()
    rig.settle(qtbot)
    held = [one for one in rig.window.plan.findings if one.kind is FindingKind.STOCK_HELD]
    assert held
    assert held[0].found == min(bought - 21, held[0].found or 0)
    fix = next(
        button
        for button in rig.window.findings.findChildren(QAbstractButton)
        if button.text() == "Use from stock"
    )
    click(fix)
    assert from_stock(rig) == held[0].found
    assert rig.window.plan.purchase is None or rig.window.plan.purchase.orders[0].pieces[0].need < 20
    back = next(
        button
        for button in rig.window.findings.findChildren(QAbstractButton)
        if button.text() == "Order new ones"
    )
    click(back)
    assert from_stock(rig) == 0
    undo(rig)
    undo(rig)
    assert from_stock(rig) == 0


def test_counts_from_stock_and_on_the_shelf_are_typed(job_rig: Rig, qtbot: QtBot) -> None:
    rig = arranged(job_rig, qtbot)
    window = after_of(rig)
    click(window.settle)
    window.close()
    rig.desk.undo_stack.setClean()
    rig.window.jobs.order_again()
    stock = stock_of(rig)
    typed(stock.uses["p1"], "4")
    QTest.keyClick(stock, Qt.Key.Key_Z, CTRL)
    assert from_stock(rig) == 0
    QTest.keyClick(stock, Qt.Key.Key_Z, CTRL | SHIFT)
    typed(stock.uses["p1"], "12")
    assert from_stock(rig) == 12
    assert rig.desk.undo_stack.undoText() == "Use transfers from stock"
    typed(stock.counts[0], "5")
    heap = rig.desk.shop.left_over[0]
    assert heap.count == 5
    assert in_stock(rig.desk.shop.left_over, heap.design) == 5
    assert FindingKind.STOCK_SHORT in {one.kind for one in rig.window.plan.findings}
    typed(stock.counts[0], "0")
    assert not in_stock(rig.desk.shop.left_over, heap.design)
    undo(rig)
    undo(rig)
    assert sum(one.count for one in rig.desk.shop.left_over) > 5
    QTest.keyClick(stock, Qt.Key.Key_Escape)
    assert not stock.isVisible()


def test_a_job_that_used_stock_takes_it_out_when_it_is_done(job_rig: Rig, qtbot: QtBot) -> None:
    rig = arranged(job_rig, qtbot)
    window = after_of(rig)
    click(window.settle)
    had = rig.desk.shop.left_over[0].count
    rig.desk.undo_stack.setClean()
    rig.window.jobs.order_again()
    stock = stock_of(rig)
    typed(stock.uses["p1"], "6")
    stock.close()
    arranged(rig, qtbot)
    assert rig.window.plan.purchase is not None
    bought = rig.window.plan.purchase.orders[0].pieces[0].ordered
    window = after_of(rig)
    assert window.left["p1"].value == bought + 6 - 20
    click(window.settle)
    assert sum(heap.count for heap in rig.desk.shop.left_over) == had - 6 + bought + 6 - 20
    window.close()


def test_figures_survive_the_file_and_are_opened_from_the_list(
    job_rig: Rig, tmp_path: Path, qtbot: QtBot
) -> None:
    window = after_of(job_rig)
    qtbot.waitUntil(window.isActiveWindow)
    typed(window.minutes, "75")
    click(window.keep)
    window.close()
    qtbot.waitUntil(job_rig.window.isActiveWindow)
    job_rig.answers.save = tmp_path / f"fair{SUFFIX}"
    QTest.keyClick(job_rig.window, Qt.Key.Key_S, CTRL)
    job_rig.settle(qtbot)
    assert read_job(tmp_path / f"fair{SUFFIX}").job.actuals == job_rig.desk.job.actuals
    QTest.keyClick(job_rig.window, Qt.Key.Key_N, CTRL)
    QTest.keyClick(job_rig.window, Qt.Key.Key_O, CTRL | SHIFT)
    job_rig.settle(qtbot)
    jobs = job_rig.window.findChildren(JobsWindow)[0]
    click(jobs.after)
    job_rig.settle(qtbot)
    assert job_rig.desk.job.title == "Spring fair"
    assert window.isVisible()
    assert window.minutes.value == 75
    for one in (jobs, window):
        one.close()


def test_what_was_typed_for_one_job_is_not_shown_for_the_next(job_rig: Rig) -> None:
    window = after_of(job_rig)
    typed(window.minutes, "75")
    job_rig.desk.undo_stack.setClean()
    QTest.keyClick(job_rig.window, Qt.Key.Key_N, CTRL)
    assert window.minutes.value == 0
    assert window.settle_said.text() == words.NOTHING_LEFT
    window.close()
