"""The store: revisions, people, phones, audit. The only room that knows SQLAlchemy; it knows no Flask."""
from .database import Store, alone, is_text
from .errors import NotFound, StoreError, Taken

__all__ = ["NotFound", "Store", "StoreError", "Taken", "alone", "is_text"]
