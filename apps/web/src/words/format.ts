/** Numbers and counted nouns as a language writes them. `locale` is BCP 47. */
export function formatIn(locale: string) {
  const whole = new Intl.NumberFormat(locale);
  const short = new Intl.NumberFormat(locale, { maximumFractionDigits: 1 });
  const rules = new Intl.PluralRules(locale);
  const time = new Intl.DateTimeFormat(locale, { hour: 'numeric', minute: '2-digit' });
  const length = (unit: 'foot' | 'meter') =>
    new Intl.NumberFormat(locale, { style: 'unit', unit, maximumFractionDigits: unit === 'foot' ? 0 : 1 });
  const feet = length('foot');
  const metres = length('meter');
  const road = (unit: 'mile' | 'kilometer') =>
    new Intl.NumberFormat(locale, { style: 'unit', unit, maximumFractionDigits: 1 });
  const miles = road('mile');
  const kilometres = road('kilometer');
  // The United States, Liberia and Myanmar measure in feet (CLDR, measurement systems).
  const isInFeet = ['US', 'LR', 'MM'].includes(new Intl.Locale(locale).maximize().region ?? '');
  return {
    number: (n: number): string => whole.format(n),
    /** At most one decimal. */
    trim: (n: number): string => short.format(n),
    /** With the noun that goes with it: English and Spanish know one and many. */
    plural: (n: number, one: string, many: string): string =>
      `${whole.format(n)} ${rules.select(n) === 'one' ? one : many}`,
    /** In the unit that people of the locale measure in. */
    length: (lengthMetres: number): string =>
      isInFeet ? feet.format(lengthMetres / 0.3048) : metres.format(lengthMetres),
    /** A way to drive: miles where people measure in feet, else kilometres. */
    distance: (lengthMetres: number): string =>
      isInFeet ? miles.format(lengthMetres / 1609.344) : kilometres.format(lengthMetres / 1000),
    /** Clock of the reader's own time zone. */
    time: (moment: Date): string => time.format(moment),
  };
}
