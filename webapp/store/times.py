"""Times as the store orders them."""
from datetime import datetime, timezone


def now():
    """The server's time, RFC 3339."""
    return datetime.now(timezone.utc).isoformat(timespec="milliseconds")


def utc(text):
    """A time with its offset as UTC to the second, so that texts stand in the order of time; what is no time stays as it is, cut short."""
    try:
        return datetime.fromisoformat(text.replace("Z", "+00:00")).astimezone(timezone.utc).isoformat(timespec="seconds")
    except (AttributeError, ValueError, OverflowError):
        return str(text)[:40]
