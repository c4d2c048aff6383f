"""Pages: one module a subject, each with its `blueprint`. Thin: read the request, call the room that knows, render."""
from . import calendar, care, defects, over_time, papers, people, phone, plant, reader, sign_in, tonight

BLUEPRINTS = (sign_in.blueprint, reader.blueprint, phone.blueprint, plant.blueprint, defects.blueprint, over_time.blueprint, tonight.blueprint,
              people.blueprint, papers.blueprint, care.blueprint, calendar.blueprint)
