"""Sentences of defects and of adjustments that differ from the settings sheet."""


def _say(says, do=""):
    return {"says": says, "do": do}


ENGLISH = {
    # the four words: consequence, and what to do
    "defect.danger": _say("Someone can be hurt.", "Stop and secure it now."),
    "defect.starving": _say("Points get no lubricant, or nobody can confirm that they do.",
                            "Put it right within the shift; meanwhile feed them by hand, with the lubricant on the settings sheet."),
    "defect.failing": _say("Works today, will not for long.", "Put it right within a week."),
    "defect.untidy": _say("Does not threaten lubrication.", "Put it right by the next round."),
    "defect.overdue": _say("Overdue by {days}."),
    "defect.overdue_since_yesterday": _say("Overdue since yesterday."),
    "defect.at_once": _say("Due at once."),
    "defect.due_today": _say("Due today."),
    "defect.due_tomorrow": _say("Due tomorrow."),
    "defect.due_in": _say("Due in {days}."),
    # adjustments
    "adjusted.differs": _say("{setting} is {to} at the controller; the settings sheet says {sheet}.",
                             "Settle it: the sheet follows, it is set back, or it stays as an exception with a reason."),
    "adjusted.not_followed": _say("{setting} is {to} at the controller. The sheet was to follow, but still says {sheet}.",
                                  "Change the system so that its sheet says it, or set it back."),
    "adjusted.exception": _say("{setting} stays {to} as an exception; the settings sheet says {sheet}.", "Because: {why}"),
    "adjusted.no_setting": _say("{setting} is {to} at the controller; the settings sheet has no setting of that name.",
                                "Look which setting it is, then settle it."),
}
