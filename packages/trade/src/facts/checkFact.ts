import { checkBody } from './bodies.ts';
import { findClock } from './clock.ts';
import { PROPERTY_KINDS, PROPERTY_OR_FIRM_KINDS, STATION_KINDS } from './kinds.ts';
import { moment } from './officeChecks.ts';
import {
  type Check,
  fields,
  filled,
  isFields,
  malformed,
  numberFrom,
  orNull,
  type ShapeProblem,
} from './shape.ts';
import { isUuid } from './uuid.ts';

export type FactProblem = ShapeProblem;

const uuid: Check = (value, path, out) => {
  if (typeof value !== 'string' || !isUuid(value))
    malformed(out, path, 'is not a UUID in lower case', 'give the UUIDv7 of the fact (RFC 9562)');
};
const clock: Check = (value, path, out) => {
  if (typeof value !== 'string' || findClock(value) === undefined) {
    malformed(
      out,
      path,
      'is not a hybrid logical clock',
      'give 15 digits of milliseconds, a dot, 5 digits of count',
    );
  }
};

const head = fields({
  id: uuid,
  firm: filled,
  property: orNull(filled),
  station: orNull(filled),
  by: filled,
  device: filled,
  seq: numberFrom(0, Number.MAX_SAFE_INTEGER, true),
  at: moment,
  clock,
  kind: filled,
});

const stationKinds: ReadonlySet<string> = new Set(STATION_KINDS);
const propertyKinds: ReadonlySet<string> = new Set(
  PROPERTY_KINDS.filter((kind) => !PROPERTY_OR_FIRM_KINDS.includes(kind)),
);

/**
 * Everything that keeps a fact from being stored, with place and remedy; an empty list = it can be.
 * Clocks are never a reason, and an unknown kind is kept. A body of a known kind must have its shape, and bait that
 * goes in must come with the fields of the pesticide use record (7 CFR 110.3).
 */
export function checkFact(value: unknown): readonly FactProblem[] {
  const out: ShapeProblem[] = [];
  if (!isFields(value)) {
    malformed(out, '', 'is not an object', 'give a fact with its named fields');
    return out;
  }
  head(value, '', out);
  const kind = value['kind'];
  if (typeof kind !== 'string') return out;
  if (stationKinds.has(kind) && value['station'] === null)
    malformed(out, 'station', 'is null', `name the station that "${kind}" speaks of`);
  if (propertyKinds.has(kind) && value['property'] === null)
    malformed(out, 'property', 'is null', `name the property that "${kind}" speaks of`);
  for (const problem of checkBody(kind, value['body'])) out.push(problem);
  return out;
}
