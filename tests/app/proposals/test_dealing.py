"""Numbers go out once, results come in by number whatever the timing, and what dies is told."""

from __future__ import annotations

import random

from app.proposals.dealing import MOST_DEATHS, Deal, Fault, Frames, framed
from kinematics.proposals.results import UnitResult


def result(unit: int) -> UnitResult:
    return UnitResult(unit, "four-bar", (), 10)


def test_results_come_in_by_number_whatever_the_timing() -> None:
    for seed in range(20):
        deal, hand = Deal(), random.Random(seed)
        working = [deal.give() for _ in range(4)]
        taken = []
        while len(taken) < 30:
            unit = working.pop(hand.randrange(len(working)))
            taken += [each.unit for each in deal.take(result(unit))]
            working.append(deal.give())
        assert taken == list(range(len(taken)))
        assert deal.due == len(taken)


def test_a_search_goes_on_from_where_one_was() -> None:
    deal = Deal(first=7)
    assert (deal.give(), deal.give()) == (7, 8)
    assert deal.take(result(8)) == []
    assert [each.unit for each in deal.take(result(7))] == [7, 8]


def test_a_unit_that_fails_is_told_and_passed_over() -> None:
    deal = Deal()
    one, other = deal.give(), deal.give()
    assert deal.take(result(other)) == []
    assert deal.take(Fault(one, "ValueError: no.")) == [UnitResult(0, "", (), 0), result(other)]
    assert deal.told == ["Unit 0 of the search is passed over: ValueError: no."]
    assert not deal.broken


def test_a_unit_whose_process_died_is_done_once_more_and_no_oftener() -> None:
    deal = Deal()
    one, other = deal.give(), deal.give()
    assert deal.lose(one, "signal 9") == []
    assert "unit 0 is done once more" in deal.told[0]
    assert deal.give() == one
    assert deal.take(result(other)) == []
    assert deal.lose(one, "signal 9") == [UnitResult(0, "", (), 0), result(other)]
    assert "ended twice (signal 9)" in deal.told[1]
    assert deal.give() == 2


def test_too_many_deaths_end_the_search_in_a_sentence() -> None:
    deal = Deal()
    for _ in range(MOST_DEATHS):
        assert not deal.broken
        deal.lose(deal.give(), "status 1")
    assert deal.broken.startswith(f"The search has stopped: {MOST_DEATHS} of its processes ended unasked")


def test_a_process_that_cannot_work_at_all_ends_the_search() -> None:
    deal = Deal()
    assert deal.take(Fault(-1, "The search can't be started: no memory.")) == []
    assert deal.broken == "The search can't be started: no memory."


def test_frames_come_together_from_any_pieces() -> None:
    messages = [1, result(3), "words" * 1000]
    whole = b"".join(framed(each) for each in messages)
    for size in (1, 3, 5000):
        frames, found = Frames(), []
        for at in range(0, len(whole), size):
            found += frames.feed(whole[at : at + size])
        assert found == messages
