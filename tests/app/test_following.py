"""What is pulled follows at once, all else of the order a moment later."""

from __future__ import annotations


def test_the_skirt_first_then_all_of_it_then_as_it_was(window, qtbot):
    desk, looks = window.desk, []
    sweep = desk.look.report.finished["sweep"]
    desk.looked.connect(looks.append)
    desk.pull({"front_spread": 50.0})
    assert [look.at_a_glance for look in looks] == [True]
    assert looks[0].worked.stated.amounts["front_spread"].value == 50.0
    assert looks[0].pieces is desk.look.pieces
    qtbot.waitUntil(lambda: len(looks) == 2)
    assert not looks[1].at_a_glance
    assert looks[1].report.finished["sweep"] > sweep
    # The next glance keeps the pieces as they were last seen.
    desk.pull({"front_spread": 51.0})
    assert looks[2].pieces is looks[1].pieces
    desk.drop()
    assert looks[-1] is desk.look
    qtbot.wait(80)
    assert looks[-1] is desk.look
    assert len(looks) == 4


def test_what_was_set_is_exact_and_nothing_follows_it(window, qtbot):
    desk, looks = window.desk, []
    desk.pull({"front_spread": 50.0})
    desk.looked.connect(looks.append)
    desk.settle({"front_spread": 52.0})
    assert desk.look.worked.stated.amounts["front_spread"].value == 52.0
    assert not desk.look.at_a_glance
    qtbot.wait(80)
    assert all(look is desk.look for look in looks)
