"""What can go wrong in the store, in the store's own words. Anything else that leaves it is a bug."""


class StoreError(Exception):
    """The database could not do it; the text says why in one sentence."""


class NotFound(StoreError):
    """There is no such document, revision, person or phone."""


class Taken(StoreError):
    """The name is in use already."""
