"""The engine's kept memory: a cold start from it answers as one from the sources does, and only the right version is kept."""
import json

from tests.engine.systems import random_system

from .bench import eventually

KEPT = "() => caches.match('/app-data/engine-memory').then(Boolean)"
ASK_BOTH = """async (requests) => {
  const { loadEngine } = await import('/static/app/engine-core.js');
  const get = window.fetch;
  const compiled = [];
  window.fetch = (address, ...rest) => { if (address === '/app-data/engine.json') compiled.push(address); return get(address, ...rest); };
  const start = async () => {
    const before = compiled.length;
    const ask = await loadEngine();
    return { answers: requests.map(ask), version: ask.version, compiled: compiled.length - before };
  };
  const kept = await start();
  for (const name of await caches.keys()) await (await caches.open(name)).delete('/app-data/engine-memory');
  return { kept, fresh: await start() };
}"""
OFFER = """async (version) => {
  for (const name of await caches.keys()) await (await caches.open(name)).delete('/app-data/engine-memory');
  navigator.serviceWorker.controller.postMessage({ engineMemory: { version, bytes: new ArrayBuffer(8) } });
}"""


def test_a_start_from_kept_memory_answers_as_one_from_the_sources(server, phone):
    phone.sign_in()
    eventually(lambda: phone.page.evaluate(KEPT))
    server.stop()
    phone.open("/app/systems")
    requests = [json.dumps({"do": "work", "document": random_system(seed), "units": "us", "simulate": simulate, "keep_traces": simulate})
                for seed, simulate in ((1, False), (2, True), (3, True))]
    both = phone.page.evaluate(ASK_BOTH, requests)
    assert both["kept"]["compiled"] == 0 and both["fresh"]["compiled"] == 1
    assert both["kept"]["answers"] == both["fresh"]["answers"]
    assert both["kept"]["version"] == both["fresh"]["version"]


def test_memory_of_another_version_is_not_kept(phone):
    phone.sign_in()
    eventually(lambda: phone.page.evaluate(KEPT))
    phone.page.evaluate(OFFER, "another")
    phone.page.wait_for_timeout(500)
    assert not phone.page.evaluate(KEPT)
    phone.page.evaluate(OFFER, phone.page.evaluate("() => fetch('/app-data/engine-version.json').then((reply) => reply.json())"))
    eventually(lambda: phone.page.evaluate(KEPT))
