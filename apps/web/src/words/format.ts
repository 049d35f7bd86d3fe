/** Numbers and counted nouns as a language writes them. `locale` is BCP 47. */
export function formatIn(locale: string) {
  // Each is made when it is first used: together they cost a slow phone a tenth of a second of its start.
  const numberIn = (options: Intl.NumberFormatOptions) =>
    onceMade(() => new Intl.NumberFormat(locale, options));
  const whole = numberIn({});
  const short = numberIn({ maximumFractionDigits: 1 });
  const rules = onceMade(() => new Intl.PluralRules(locale));
  const list = onceMade(() => new Intl.ListFormat(locale));
  const time = onceMade(() => new Intl.DateTimeFormat(locale, { hour: 'numeric', minute: '2-digit' }));
  const inUnit = (unit: string, digits: number) =>
    numberIn({ style: 'unit', unit, maximumFractionDigits: digits });
  const feet = inUnit('foot', 0);
  const metres = inUnit('meter', 1);
  const miles = inUnit('mile', 1);
  const kilometres = inUnit('kilometer', 1);
  // The United States, Liberia and Myanmar measure in feet (CLDR, measurement systems).
  const isInFeet = onceMade(() =>
    ['US', 'LR', 'MM'].includes(new Intl.Locale(locale).maximize().region ?? ''),
  );
  return {
    number: (n: number): string => whole().format(n),
    /** At most one decimal. */
    trim: (n: number): string => short().format(n),
    /** With the noun that goes with it: English and Spanish know one and many. */
    plural: (n: number, one: string, many: string): string =>
      `${whole().format(n)} ${rules().select(n) === 'one' ? one : many}`,
    /** `a`, `a and b`, `a, b, and c` in the words of the language. */
    listed: (parts: readonly string[]): string => list().format(parts),
    /** In the unit that people of the locale measure in. */
    length: (lengthMetres: number): string =>
      isInFeet() ? feet().format(lengthMetres / 0.3048) : metres().format(lengthMetres),
    /** A way to drive: miles where people measure in feet, else kilometres. */
    distance: (lengthMetres: number): string =>
      isInFeet() ? miles().format(lengthMetres / 1609.344) : kilometres().format(lengthMetres / 1000),
    /** Clock of the reader's own time zone. */
    time: (moment: Date): string => time().format(moment),
  };
}

function onceMade<T>(make: () => T): () => T {
  let made: { readonly value: T } | undefined;
  return () => {
    made ??= { value: make() };
    return made.value;
  };
}
