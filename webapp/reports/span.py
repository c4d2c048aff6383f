"""A period in days, both of them in it, by the plant's clock."""
from datetime import date, timedelta

from ..clock import Clock
from .base import day


class Span:
    """From one day to another ("2026-11-01") of a plant's Clock, UTC where None. Raises ValueError with a sentence."""

    def __init__(self, since, until, clock=None):
        for text in (since, until):
            try:
                date.fromisoformat(text)
            except ValueError as error:
                raise ValueError("\"%s\" is no day. Write it as 2026-11-30." % text) from error
        if since > until:
            raise ValueError("The period ends on %s, before it begins on %s." % (day(until), day(since)))
        self.since, self.until, self.clock = since, until, clock or Clock()

    @classmethod
    def asked(cls, since, until, clock):
        """What somebody asked for: up to today at the most, since nobody confirmed what is to come; 30 days where no first day is named."""
        last = min(until or clock.today(), clock.today())
        return cls(since, last, clock) if since else cls.last_days(last, clock)

    @classmethod
    def last_days(cls, until, clock=None, days=30):
        """The days that end with a day."""
        return cls((date.fromisoformat(until) - timedelta(days=days - 1)).isoformat(), until, clock)

    def holds(self, text):
        """True for a stored time that lies in it."""
        return bool(text) and self.since <= self.clock.day(text) <= self.until

    def over_by_its_end(self, text):
        """True for a stored time that lies before its end."""
        return bool(text) and self.clock.day(text) <= self.until

    def in_utc(self):
        """(from, until) as the store narrows: a day wider at both ends than any clock can make it."""
        first, last = date.fromisoformat(self.since), date.fromisoformat(self.until)
        return (first - timedelta(days=1)).isoformat(), (last + timedelta(days=2)).isoformat()

    def __str__(self):
        return "%s to %s" % (day(self.since), day(self.until))
