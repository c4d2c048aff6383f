"""Pages: one module a subject, each with its `blueprint`. Thin: read the request, call the room that knows, render."""
from . import checklists, papers, people, phone, plant, reader, rounds, sign_in, tonight

BLUEPRINTS = (sign_in.blueprint, reader.blueprint, phone.blueprint, plant.blueprint, tonight.blueprint, people.blueprint, papers.blueprint,
              checklists.blueprint, rounds.blueprint)
