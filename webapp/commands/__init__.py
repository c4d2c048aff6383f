"""The commands of `python -m webapp`: name -> module of this package that holds it. A room adds its line here."""

COMMANDS = {
    "calculate": "calculate",
    "check": "check",
    "checklist": "checklist",
    "diagnose": "diagnose",
    "export": "whole_plant",
    "fleet": "fleet",
    "import": "whole_plant",
    "people": "people",
    "register": "register",
    "report": "report",
    "serve": "serve",
    "simulate": "calculate",
    "work": "work",
}
