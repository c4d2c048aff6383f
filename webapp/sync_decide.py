"""What becomes of an incoming revision, decided from what is held and nothing else: no database, no clock.

Fields are compared leaf by leaf. Lists of things with an `id` are matched by it, one that was not there before as an empty one; any other
list is one field.
"""
import uuid
from collections import namedtuple

ACCEPTED, MERGED, CLASH, REFUSED = "accepted", "merged", "clash", "refused"
REMOVED = object()
_ENVELOPE = ("document", "kind", "parent", "also", "made_at", "phone", "body", "deleted", "reason")

# state; says (why refused); fields that clash; joined: the body that unites both, where there is one; clash: the document's marks
Decision = namedtuple("Decision", "state says fields joined clash")
# known: stored revision of the same id; head: newest of the document; parent: the stored parent; clash: the document's marks
Held = namedtuple("Held", "known head parent clash")


def _refused(says):
    return Decision(REFUSED, says, [], None, None)


def same_content(stored, incoming):
    """True when a revision that came again is the one that is stored."""
    return all((stored.get(name) or None) == (incoming.get(name) or None) for name in _ENVELOPE)


def decide(held, incoming):
    """Decide on a well-formed revision that its sender may write. Returns a Decision.

    A clash is settled by a revision made from the newest that names the other in `also`.
    """
    if held.known is not None:
        if same_content(held.known, incoming):
            return Decision(held.known["state"], None, held.known["fields"], None, None)
        return _refused("A revision with this id is stored with another content.")
    if incoming.get("parent") is None:
        if held.head is not None:
            return _refused("This document exists already: pull first, then change the newest revision.")
        if incoming.get("deleted"):
            return _refused("There is no such document to delete.")
        return Decision(ACCEPTED, None, [], None, None)
    if held.parent is None or held.parent["document"] != incoming["document"]:
        return _refused("The revision it was made from is not known here: pull first, then send again.")
    if held.head["kind"] != incoming["kind"]:
        return _refused("A document does not change its kind.")
    if not incoming.get("reason") and (held.head["body"].get("signed") or held.head["body"].get("closed")):
        return _refused("It is signed off or closed: a correction needs a reason.")
    if incoming["parent"] == held.head["id"]:
        settled = [mark for mark in held.clash if incoming.get("also") not in (mark["ours"], mark["theirs"])]
        return Decision(ACCEPTED, None, [], None, settled if incoming.get("also") else None)
    return _join(held, incoming)


def _join(held, incoming):
    """Somebody else changed the document meanwhile: unite both, or keep both as a clash."""
    mark = {"ours": incoming["id"], "theirs": held.head["id"]}
    if incoming.get("deleted") or held.head["deleted"]:
        return Decision(CLASH, None, ["deleted"], None, held.clash + [dict(mark, fields=["deleted"])])
    base = held.parent["body"]
    ours, theirs = changes(base, incoming["body"]), changes(base, held.head["body"])
    fields = sorted({path_text(path) for path in ours for other in theirs if _meet(ours, path, theirs, other)})
    joined = apply(held.head["body"], _laid_over(theirs, ours, incoming["body"]))
    joined.pop("countersigned", None)  # it was given for what the round said before
    if fields:
        # both are kept; the newest takes the other's changes to other fields, so that only the clash stays open
        return Decision(CLASH, None, fields, joined, held.clash + [dict(mark, fields=fields)])
    return Decision(MERGED, None, [], joined, None)


def _laid_over(theirs, ours, body):
    """Our changes as they go onto theirs: what they replaced or took out whole, we put back whole from our body."""
    out = {}
    for path, value in ours.items():
        whole = next((other for other in theirs if len(other) < len(path) and path[:len(other)] == other), None)
        out[whole or path] = _value_at(body, whole) if whole else value
    return out


def _value_at(body, path):
    for part in path:
        body = _keyed(body)[part] if isinstance(part, tuple) else body[part]
    return body


def joined_id(incoming_id, head_id):
    """Id of the revision that joins two: the same two always give the same."""
    return str(uuid.uuid5(uuid.NAMESPACE_URL, "join:%s:%s" % (incoming_id, head_id)))


def _meet(ours, path, theirs, other):
    shorter = min(len(path), len(other))
    if path[:shorter] != other[:shorter]:
        return False
    return path != other or ours[path] != theirs[other]


def path_text(path):
    """A path for people: devices[D1].output_min_cm3."""
    out = ""
    for part in path:
        if isinstance(part, tuple):
            out += "[%s]" % part[0]
        else:
            out += "." + part if out else part
    return out


def _keyed(value):
    """A list of things with distinct ids as (id,) -> thing, else None."""
    if not isinstance(value, list) or not all(isinstance(item, dict) and isinstance(item.get("id"), str) for item in value):
        return None
    keyed = {(item["id"],): item for item in value}
    return keyed if len(keyed) == len(value) else None


def changes(base, mine):
    """Path -> new value (or REMOVED) of every leaf in which `mine` differs from `base`."""
    out = {}
    _collect(base, mine, (), out)
    return out


def _collect(base, mine, path, out):
    before, after = (base, mine) if isinstance(base, dict) and isinstance(mine, dict) else (_keyed(base), _keyed(mine))
    if before is None or after is None:
        if base != mine or isinstance(base, bool) != isinstance(mine, bool):
            out[path] = mine
        return
    for key in before:
        if key not in after:
            out[path + (key,)] = REMOVED
        else:
            _collect(before[key], after[key], path + (key,), out)
    for key in after:
        if key not in before and _keyed(after[key]):
            _collect([], after[key], path + (key,), out)  # two who begin a list at the same time each add to it
        elif key not in before:
            out[path + (key,)] = after[key]
    if isinstance(base, list):
        kept = [key for key in after if key in before]
        if kept != [key for key in before if key in after]:
            out[path + ("order",)] = [key[0] for key in after]


def apply(body, changed):
    """A copy of `body` with the changes made."""
    out = _copy(body)
    for path in sorted(changed, key=len):
        out = _set(out, path, changed[path])
    return out


def _copy(value):
    if isinstance(value, dict):
        return {key: _copy(part) for key, part in value.items()}
    return [_copy(part) for part in value] if isinstance(value, list) else value


def _set(container, path, value):
    if not path:
        return _copy(value)
    key, rest = path[0], path[1:]
    if isinstance(container, list):
        return _set_in_list(container, key, rest, value)
    if rest:
        container[key] = _set(container.get(key, []), rest, value)
    elif value is REMOVED:
        container.pop(key, None)
    else:
        container[key] = _copy(value)
    return container


def _set_in_list(items, key, rest, value):
    if key == "order":
        rank = {identity: number for number, identity in enumerate(value)}
        return sorted(items, key=lambda item: rank.get(item["id"], len(rank)))
    for number, item in enumerate(items):
        if item["id"] == key[0]:
            if value is REMOVED and not rest:
                return items[:number] + items[number + 1:]
            items[number] = _set(item, rest, value)
            return items
    return items if value is REMOVED else items + [_copy(value)]  # a new item goes to the end
