// file.js: hands a thing to the person as a JSON file.
export function offerFile(name, thing) {
  const link = document.createElement('a');
  link.href = URL.createObjectURL(new Blob([JSON.stringify(thing, null, 1)], { type: 'application/json' }));
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 60000);
}
