"""A plant's one local clock: on which of its days a stored time falls, and when a day begins. The zone is handed in, never the process's.

TIMEZONE names the plant's zone ("Europe/Vienna"); without it that of the machine counts (TZ, else /etc/localtime), else UTC.
"""
import os
from datetime import date, datetime, timedelta
from functools import lru_cache
from zoneinfo import ZoneInfo

UTC = "UTC"
_KEPT = 50_000
_LINK, _FOLDER = "/etc/localtime", "/zoneinfo/"


class Clock:
    """The clock of a zone by its name. Raises ValueError with a sentence for whoever typed it."""

    def __init__(self, name=UTC):
        try:
            self.name, self._zone = name, ZoneInfo(name)
        except (KeyError, OSError, ValueError) as error:
            raise ValueError("\"%s\" is no time zone known here. Write TIMEZONE as Europe/Vienna or UTC." % str(name)[:60]) from error
        # a page asks for the times of last answers again and again, and they hardly change
        self.here = lru_cache(_KEPT)(self._here)

    def now(self):
        """The time, RFC 3339 with the offset here."""
        return datetime.now(self._zone).isoformat(timespec="milliseconds")

    def today(self):
        """The day, as "2026-11-23"."""
        return self.now()[:10]

    def _here(self, text):
        """`here(text)`: a stored time as this clock shows it; a day, or what is no time, as it is."""
        try:
            at = datetime.fromisoformat(text)
            return at.astimezone(self._zone).isoformat() if at.tzinfo else text
        except (TypeError, ValueError, OverflowError):
            return text

    def day(self, text):
        """The day on which a stored time falls here; a day is itself."""
        return self.here(text)[:10]

    def begin(self, day):
        """The moment at which a day begins, RFC 3339 with the offset here."""
        return datetime.combine(date.fromisoformat(day), datetime.min.time(), self._zone).isoformat()

    def end(self, day):
        """The last second of a day."""
        begin = datetime.fromisoformat(self.begin((date.fromisoformat(day) + timedelta(days=1)).isoformat()))
        return self.here((begin - timedelta(seconds=1)).isoformat())


def clock_of(environment):
    """The plant's clock by these variables. Raises ValueError with a sentence where TIMEZONE names no zone."""
    if environment.get("TIMEZONE"):
        return Clock(environment["TIMEZONE"])
    for name in (environment.get("TZ", "").lstrip(":"), os.path.realpath(_LINK).rpartition(_FOLDER)[2]):
        try:
            return Clock(name)
        except ValueError:
            continue
    return Clock(UTC)
