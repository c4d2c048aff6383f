"""The commands of `python -m webapp`: name -> module of this package that holds it. A room adds its line here."""

COMMANDS = {
    "calculate": "calculate",
    "check": "check",
    "checklist": "checklist",
    "diagnose": "diagnose",
    "fleet": "fleet",
    "people": "people",
    "report": "report",
    "serve": "serve",
    "simulate": "calculate",
}
