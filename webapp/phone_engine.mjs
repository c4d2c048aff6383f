// Runs the engine under the phone's interpreter: the bundle on the first line of standard input, then a request a line.
import { createInterface } from 'node:readline';
import { pathToFileURL } from 'node:url';

const interpreterPath = process.argv[2];
const { loadMicroPython } = await import(pathToFileURL(interpreterPath).href);
const python = await loadMicroPython({
  url: interpreterPath.replace(/\.mjs$/, '.wasm'), heapsize: 32 * 1024 * 1024, linebuffer: true,
});

let answer = null;

function load(bundle) {
  for (const [name, source] of Object.entries(bundle.files)) {
    python.FS.mkdirTree('/' + name.slice(0, name.lastIndexOf('/') + 1));
    python.FS.writeFile('/' + name, source);
  }
  python.runPython(`import sys\nsys.path.insert(0, '/')\nfrom ${bundle.entry} import answer`);
  answer = python.globals.get('answer');
  return 'loaded';
}

function reply(line) {
  if (answer === null) return load(JSON.parse(line));
  return answer(line);
}

for await (const line of createInterface({ input: process.stdin, crlfDelay: Infinity })) {
  let out;
  try {
    out = { answer: reply(line) };
  } catch (error) {
    out = { bug: String(error.message ?? error) };
  }
  process.stdout.write(JSON.stringify(out) + '\n');
}
