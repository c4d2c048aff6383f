"""Dates as numbers of days, without a clock: ISO 8601 texts in, days since the first of March of the year 0 out, and back.

A moment counts in UTC. Its day is that of the clock by which its text was written: the caller hands in texts of one clock.
"""

_MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")


def days_of(text):
    """Days, with parts of a day in UTC where the text holds a time; None where it is no date."""
    try:
        year, month, day, clock = int(text[:4]), int(text[5:7]), int(text[8:10]), text[11:]
        if text[4] != "-" or text[7] != "-" or not (0 <= year and 1 <= month <= 12 and 1 <= day <= 31):
            return None
        hours, parts = 0.0, 1
        for part in clock[:8].split(":") if clock else ():
            hours += int(part[:2]) / parts
            parts *= 60
        return _days(year, month, day) + (hours - _offset(clock)) / 24
    except (ValueError, TypeError, AttributeError, IndexError):
        return None


def _offset(clock):
    if len(clock) > 8 and clock[-6] in "+-":
        return (int(clock[-5:-3]) + int(clock[-2:]) / 60) * (1 if clock[-6] == "+" else -1)
    return 0.0


def offset_of(text):
    """How far the clock by which a time was written is ahead of UTC [days]; 0 where the text does not say."""
    return 0.0 if days_of(text) is None else _offset(text[11:]) / 24


def day_of(text):
    """The whole day of a date or time, by the clock by which it was written; None where it is none."""
    return days_of(text[:10]) if isinstance(text, str) else None


def _days(year, month, day):
    """Whole days; a year is counted from March, so that the leap day is its last."""
    year -= month < 3
    return 365 * year + year // 4 - year // 100 + year // 400 + (153 * ((month + 9) % 12) + 2) // 5 + day - 1


def date_of(days):
    """The date, as "2026-11-23", on which that many days have passed."""
    whole = int(days // 1)
    year = (10000 * whole + 14780) // 3652425
    while _days(year + 1, 3, 1) <= whole:
        year += 1
    while _days(year, 3, 1) > whole:
        year -= 1
    left = whole - _days(year, 3, 1)
    month = (5 * left + 2) // 153
    day = left - (153 * month + 2) // 5 + 1
    month = month + 3 if month < 10 else month - 9
    year += month < 3
    return "%s-%s-%s" % (_padded(year, 4), _padded(month, 2), _padded(day, 2))


def _padded(number, digits):
    text = str(number)
    return "0" * (digits - len(text)) + text


def day_text(days):
    """The date as a person reads it, "23 Nov 2026"."""
    year, month, day = date_of(days).split("-")
    return "%d %s %s" % (int(day), _MONTHS[int(month) - 1], year)


def moment_of(days):
    """The moment, as "2026-11-23T14:05:00Z", at which that many days have passed, to the second."""
    seconds = int(days * 86400 + 0.5)
    clock = seconds % 86400
    return "%sT%s:%s:%sZ" % (date_of(seconds // 86400), _padded(clock // 3600, 2), _padded(clock // 60 % 60, 2), _padded(clock % 60, 2))
