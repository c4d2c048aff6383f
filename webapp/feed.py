"""A person's calendar of what is due: all-day events by iCalendar (RFC 5545). The same records on the same day give the same bytes."""
from datetime import date, datetime, timedelta, timezone

from icalendar import Calendar, Event

from . import care
from .store import people, revisions

# how far ahead events are given [days]
AHEAD = 60


def calendar(connection, person, clock, base, now=None):
    """The bytes of a person's calendar by the plant's clock: their sites; a technician gets what names them or nobody.

    base  the address of the server, without a slash at its end
    now   the moment (RFC 3339) where it is not this one
    """
    now = clock.here(now or clock.now())
    sites = None if person["all_sites"] else person["sites"]
    rows = care.care(connection, sites, clock, now=now)
    name = person["name"] if person["role"] == people.TECHNICIAN else ""
    newest = revisions.latest(connection, 1, sites)
    stamp = _moment(newest[0]["received_at"] if newest else None)
    out = Calendar()
    for key, value in (("prodid", "-//Linewright//What is due//EN"), ("version", "2.0"), ("name", "Linewright, " + person["name"]),
                       ("x-wr-calname", "Linewright, " + person["name"])):
        out.add(key, value)
    for entry in care.entries(rows, name, ahead=AHEAD):
        out.add_component(_event(entry, stamp, date.fromisoformat(now[:10]), base))
    return out.to_ical()


def _moment(text):
    at = datetime.fromisoformat(text) if text else datetime(2000, 1, 1, tzinfo=timezone.utc)
    return at.astimezone(timezone.utc).replace(microsecond=0)


def _event(entry, stamp, today, base):
    """One all-day event; what is overdue lasts from its day until today, so that nobody has to look back for it."""
    row, due = entry["of"], date.fromisoformat(entry["due"])
    event = Event()
    parts = [entry["what"].replace(" ", "-"), row["document"], entry["item"]]
    event.add("uid", "-".join(part for part in parts if part) + "@linewright")
    event.add("dtstamp", stamp)
    event.add("last-modified", stamp)
    event.add("summary", "%s: %s" % (row["name"], entry["says"]["says"]))
    event.add("dtstart", due)
    event.add("dtend", max(due, today) + timedelta(days=1))
    event.add("transp", "TRANSPARENT")
    event.add("location", ", ".join(part for part in (row["area"], row["site"]) if part))
    told = [one["says"] + "." for one in entry["also"]] + ["For %s." % entry["who"] if entry["who"] else "Nobody is named for it."]
    event.add("description", " ".join(told))
    event.add("url", "%s/app/systems/%s" % (base, row["document"]))
    return event
