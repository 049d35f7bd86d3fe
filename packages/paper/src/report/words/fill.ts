/** A template with each `{name}` replaced by the value of that name. Throws a RangeError where one is not given. */
export function fill(template: string, values: Readonly<Record<string, string | number>>): string {
  return template.replace(/\{(\w+)\}/g, (_, name: string) => {
    const value = values[name];
    if (value === undefined) throw new RangeError(`“${template}” needs a value for {${name}}`);
    return String(value);
  });
}
