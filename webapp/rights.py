"""What a person may see and send. Pure: no database."""
from .store import people


def may_see(person, site):
    """True when a person works on the site."""
    return person["all_sites"] or site in person["sites"]


def no_right(person, revision, head):
    """Why a person may not send this revision, in a sentence, or None. `head`: the document's newest body, or None."""
    body = revision["body"]
    if revision["kind"] == "checklist" and person["role"] == people.TECHNICIAN:
        return "Checklists are shaped by supervisors and administrators: ask one of them."
    if revision["kind"] == "round" and body.get("countersigned") and not revision.get("deleted") and body != head:
        return "Rounds are counter-signed at the desk, and a correction goes without the counter-signature: enter it again."
    if revision["kind"] == "adjustment" and person["role"] == people.TECHNICIAN and body.get("settled") != (head or {}).get("settled"):
        return "Adjustments are settled by supervisors and administrators: ask one of them."
    return None
