"""Sentences of worked documents: findings and reasons of settings."""

ENGLISH = {
}
