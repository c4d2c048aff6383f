"""Sentences about documents that cannot be worked: what is missing, out of range or contradictory."""

ENGLISH = {
}
