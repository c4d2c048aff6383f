// picture.js: SVG text from the engine as an element, without innerHTML.
const parser = new DOMParser();

/** The element of an SVG text. Throws where it is not well-formed. */
export function picture(svg) {
  const parsed = parser.parseFromString(svg, 'image/svg+xml');
  if (parsed.querySelector('parsererror')) throw new Error('The picture cannot be read.');
  return document.importNode(parsed.documentElement, true);
}
