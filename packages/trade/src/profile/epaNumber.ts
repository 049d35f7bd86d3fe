// EPA registration number: company, product and, for a distributor's product, distributor number (40 CFR 152.132);
// the digit counts are from memory.
const EPA_NUMBER = /^[1-9]\d{0,5}-[1-9]\d{0,4}(?:-[1-9]\d{0,5})?$/;

/**
 * Whether the text has the form company-product or company-product-distributor: digits only, no leading zeros,
 * up to 6, 5 and 6 digits. Says nothing about whether the product is registered.
 * @example isEpaRegistrationNumber('99999-999') // true
 */
export function isEpaRegistrationNumber(text: string): boolean {
  return EPA_NUMBER.test(text);
}
