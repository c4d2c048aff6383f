"""The demo's invented records as the last revisions tell them, without a store."""
from functools import lru_cache

from demo_site import plant
from demo_site.load import history


@lru_cache(maxsize=None)
def revisions_of(number):
    """All revisions of the system of this number, from 1, and of its records."""
    return history(plant.systems()[number - 1], number)


def newest(system, number):
    """(The system, {kind: [bodies of its records]}) as they stand at the end."""
    records = {kind: {} for kind in ("test-run", "round", "refill", "defect", "fault-case", "adjustment", "set-aside", "note")}
    for one in revisions_of(number):
        if one["kind"] == "system":
            system = one["body"]
        else:
            records[one["kind"]][one["document"]] = one["body"]
    return system, {kind: list(bodies.values()) for kind, bodies in records.items()}
