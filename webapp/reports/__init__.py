"""Papers: one module a document, all rendered by base.py. The same input gives the same bytes."""
