"""Counter-signing a round at the desk: who may, and what it makes of the round."""


def walkers(body):
    """Names of all who walked a round: who signed it off and who answered an item."""
    return {body["signed"]["by"]} | {item["by"] for item in body["items"] if item.get("by")}


def cannot_countersign(found, clash, name):
    """Why this person cannot counter-sign the newest revision of a round, in a sentence; None where they can."""
    body = found["body"]
    if found["deleted"]:
        return "The round was deleted."
    if not body.get("signed"):
        return "The round is not signed off yet: it is counter-signed after that."
    if clash:
        return "Two people answered the same item: settle on a phone which answer stands first."
    if body.get("countersigned"):
        return "%s has counter-signed it already." % body["countersigned"]["by"]
    if walkers(body) == {name}:
        return "You walked it alone: somebody else counter-signs."
    return None


def countersigned(body, person, statement, at):
    """The body with a person's counter-signature."""
    return dict(body, countersigned={"by": person["name"], "at": at, "role": person["role"], "statement": statement})
