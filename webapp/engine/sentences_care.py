"""Sentences of test runs and rounds: checklist items, verdicts."""

ENGLISH = {
}
