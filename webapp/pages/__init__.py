"""Pages: one module a subject, each with its `blueprint`. Thin: read the request, call the room that knows, render."""
from . import calendar, care, checklists, defects, labels, over_time, paper_jobs, papers, people, phone, plant, reader, register, rounds, sign_in, tonight, whole_plant

BLUEPRINTS = (sign_in.blueprint, reader.blueprint, phone.blueprint, plant.blueprint, defects.blueprint, over_time.blueprint, tonight.blueprint,
              people.blueprint, papers.blueprint, care.blueprint, calendar.blueprint, whole_plant.blueprint,
              checklists.blueprint, register.blueprint, rounds.blueprint, paper_jobs.blueprint, labels.blueprint)
