"""Sentences of what is due, of points not confirmed fed, and of refills."""


def _say(says, do=""):
    return {"says": says, "do": do}


_LOOK = "Time a cycle and watch the devices move; keep hands away from moving parts."

ENGLISH = {
    # points not confirmed fed
    "fed.all": _say("All {of} points are confirmed fed."),
    "fed.some": _say("Not confirmed fed: {count} of {of} points, the longest since {since}: {days}.", "Walk a round there."),
    "fed.some_never": _say("Not confirmed fed: {count} of {of} points, some of them never yet.", "Walk a round there."),
    "fed.defect": _say("Open defect: {what}", "Close it with evidence."),
    "fed.not_ok": _say("{where}, {ask}: not ok on {on}.", "Put it right, then look again."),
    "fed.reading": _say("{where}, {ask}: {value} on {on}, more than {limit}.", "Find the cause, then measure again."),
    "fed.cycle": _say("No cycle was timed to its end since {on}.", _LOOK),
    "fed.cycle_never": _say("No cycle was timed to its end yet.", _LOOK),
    "fed.moves": _say("Its device was not seen to move since {on}.", _LOOK),
    "fed.moves_never": _say("Its device was not seen to move yet.", _LOOK),
    "fed.film": _say("Nobody saw fresh lubricant at it since {on}.", "Look at the point in a round."),
    "fed.film_never": _say("Nobody saw fresh lubricant at it yet.", "Look at the point in a round."),
    # what is due, and when
    "due.round": _say("Round"),
    "due.items_month": _say("Items of the month: {count}"),
    "due.items_year": _say("Items of the year: {count}"),
    "due.items_cold": _say("Items of the cold: {count}"),
    "due.test_run": _say("First test run"),
    "due.defect": _say("Defect: {what}"),
    "due.refill": _say("Refill: {fill} of {lubricant}"),
    "due.winter": _say("Winter settings: {t} was read, they begin below {change}. Time limit {limit}"),
    "due.summer": _say("Summer settings: {t} was read, they begin at {change}. Time limit {limit}"),
    "due.overdue": _say("overdue since {on}: {days}"),
    "due.today": _say("due today"),
    "due.coming": _say("due on {on}, in {days}"),
    # the reservoir
    "refill.no_level": _say("No level is known.", "Read the level in a round, or note a refill with the level after it."),
}
