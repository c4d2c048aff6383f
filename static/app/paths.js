// paths.js: a place in a document, written devices[D1].output_min_cm3: things in lists are found by their id.

function steps(path) {
  return path.match(/\[[^\]]+\]|[^.[\]]+/g) ?? [];
}

function part(thing, step) {
  return step.startsWith('[') ? thing?.find?.((one) => one.id === step.slice(1, -1)) : thing?.[step];
}

/** The value at a path, undefined where there is none. The step `order` after a list gives its ids. */
export function valueAt(body, path) {
  return steps(path).reduce(
    (thing, step) => (step === 'order' && Array.isArray(thing) ? thing.map((one) => one.id) : part(thing, step)),
    body,
  );
}

function put(thing, [step, ...rest], value) {
  if (step === 'order' && Array.isArray(thing)) {
    return [...thing].sort((one, two) => value.indexOf(one.id) - value.indexOf(two.id));
  }
  if (step.startsWith('[')) {
    const id = step.slice(1, -1);
    const others = thing ?? [];
    if (!rest.length && value === undefined) return others.filter((one) => one.id !== id);
    const changed = (one) => (rest.length ? put(one, rest, value) : value);
    return others.some((one) => one.id === id) ? others.map((one) => (one.id === id ? changed(one) : one)) : [...others, changed({ id })];
  }
  const copy = { ...thing };
  const next = rest.length ? put(copy[step], rest, value) : value;
  if (next === undefined) delete copy[step]; else copy[step] = next;
  return copy;
}

/** A copy of the body with the value put at a path; undefined takes it away. */
export function withValue(body, path, value) {
  return put(body, steps(path), value);
}
