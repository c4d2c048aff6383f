"""Pages: one module a subject, each with its `blueprint`. Thin: read the request, call the room that knows, render."""
from . import people, phone, sign_in
from .. import sync

BLUEPRINTS = (sign_in.blueprint, phone.blueprint, people.blueprint, sync.blueprint)
