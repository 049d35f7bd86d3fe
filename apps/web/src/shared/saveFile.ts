/** Hands a file to the browser, which saves it under this name. */
export function saveFile(name: string, file: Blob): void {
  const address = URL.createObjectURL(file);
  const link = document.createElement('a');
  link.href = address;
  link.download = name;
  link.click();
  // The browser has taken its copy by the next turn of its loop.
  setTimeout(() => URL.revokeObjectURL(address), 0);
}
