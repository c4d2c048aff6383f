"""Pages: one module a subject, each with its `blueprint`. Thin: read the request, call the room that knows, render."""
from . import (calendar, care, checklists, defects, labels, over_time, paper_jobs, papers, people, phone, photos, plant, reader, register,
               rounds, sign_in, tonight, whole_plant)

BLUEPRINTS = tuple(page.blueprint for page in (
    sign_in, reader, phone, plant, defects, over_time, tonight, people, papers, care, calendar, whole_plant, checklists, register, rounds,
    paper_jobs, labels, photos))
