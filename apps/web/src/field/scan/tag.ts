/** What a label's code says: the tag alone, or the last part of an address that ends in it. */
export function tagOf(code: string): string {
  const text = code.trim();
  if (!/^https?:/i.test(text)) return text;
  const path = text.replace(/[?#].*$/, '').replace(/\/+$/, '');
  return decodeURIComponent(path.slice(path.lastIndexOf('/') + 1));
}
