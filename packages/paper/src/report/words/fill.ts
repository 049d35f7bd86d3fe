/** The template of message `key` with each `{name}` replaced by the value of that name. Throws a RangeError that names the message where one is not given. */
export function fill(
  key: string,
  template: string,
  values: Readonly<Record<string, string | number>>,
): string {
  return template.replace(/\{(\w+)\}/g, (_, name: string) => {
    const value = values[name];
    if (value === undefined) throw new RangeError(`message ${key} needs a value for {${name}}`);
    return String(value);
  });
}
