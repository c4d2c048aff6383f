// Stands in for Worker: the engine runs on the page's own thread, since a slowed processor slows no worker.
window.Worker = class extends EventTarget {
  constructor() {
    super();
    this.engine = import('/static/app/engine-core.js').then(({ loadEngine }) => loadEngine());
  }

  async postMessage({ id, text }) {
    const ask = await this.engine;
    this.dispatchEvent(new MessageEvent('message', { data: { id, text: text ? ask(text) : JSON.stringify(ask.version) } }));
  }

  terminate() {}
};
