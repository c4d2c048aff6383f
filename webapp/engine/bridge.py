import json
from .simulate import simulate
def answer(text):
    r=json.loads(text)
    return json.dumps(simulate(r["document"], r["doses"], r["at_c"]))
