import { type Application, isEpaRegistrationNumber, type LabelProfile } from '@sillwatch/trade';
import type { Me } from '../api/types.ts';
import type { YardWords } from '../words/index.ts';
import { decimalFault, decimalOf } from './decimal.ts';

/** The fields of the pesticide use record that the law asks for (7 CFR 110.3(a)), as they are typed. */
export const LEGAL = [
  'product',
  'registration',
  'grams',
  'location',
  'area',
  'site',
  'applicator',
  'certificate',
] as const;
export type LegalName = (typeof LEGAL)[number];
export type Legal = Readonly<Record<LegalName | 'supervised', string>>;

export interface LegalSource {
  readonly profile: LabelProfile;
  readonly grams: number;
  readonly station: number;
  readonly structure: string;
  readonly street: string;
  readonly me: Pick<Me, 'name' | 'certificationNumber'>;
}

/**
 * What profile and person say already; nothing is invented. Who has no certificate of his own puts bait in under somebody's
 * supervision, so that one's name and number are left to be written.
 */
export function firstLegal(source: LegalSource, w: YardWords): Legal {
  const { profile, grams, station, structure, street, me } = source;
  return {
    product: profile.product.name,
    registration: profile.product.epaRegistrationNumber,
    grams: String(grams),
    location: w.record.where(station, structure, street),
    area: w.record.areaDefault,
    site: w.record.siteDefault,
    applicator: me.certificationNumber === null ? '' : me.name,
    certificate: me.certificationNumber ?? '',
    supervised: me.certificationNumber === null ? me.name : '',
  };
}

/** What a field still needs; undefined = it can stand. */
export function wrongWith(name: LegalName, legal: Legal, w: YardWords): string | undefined {
  const value = legal[name].trim();
  if (value === '') return w.record.required(w.record[name]);
  if (name === 'grams')
    return decimalFault(value, w) ?? (decimalOf(value) > 0 ? undefined : w.record.notNumber(w.record.grams));
  if (name === 'registration' && !isEpaRegistrationNumber(value)) return w.record.notRegistration;
  return undefined;
}

export function isComplete(legal: Legal, w: YardWords): boolean {
  return LEGAL.every((name) => wrongWith(name, legal, w) === undefined);
}

/** What the fields say; grams that cannot be read are NaN. */
export function toApplication(legal: Legal): Application {
  return {
    productName: legal.product.trim(),
    epaRegistrationNumber: legal.registration.trim(),
    grams: decimalOf(legal.grams),
    location: legal.location.trim(),
    areaTreated: legal.area.trim(),
    site: legal.site.trim(),
    applicatorName: legal.applicator.trim(),
    certificationNumber: legal.certificate.trim(),
    appliedUnderSupervisionBy: legal.supervised.trim() === '' ? null : legal.supervised.trim(),
  };
}

/** As it was recorded, for a correction. */
export function fromApplication(application: Application): Legal {
  return {
    product: application.productName,
    registration: application.epaRegistrationNumber,
    grams: String(application.grams),
    location: application.location,
    area: application.areaTreated,
    site: application.site,
    applicator: application.applicatorName,
    certificate: application.certificationNumber,
    supervised: application.appliedUnderSupervisionBy ?? '',
  };
}
