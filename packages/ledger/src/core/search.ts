import type { PropertyState } from '@sillwatch/trade';
import { canonicalJson } from './canonical.ts';
import { LONGEST_KEY } from './defaults.ts';

/** One row of the property projection. */
export interface PropertyRow {
  readonly property: string;
  readonly branch: string | null;
  /** name, street, town, customer and tags in lower case, one a line */
  readonly search: string;
  /** canonical JSON of the PropertyState */
  readonly state: string;
}

/** `property` names the row even when every fact of it was withdrawn and the fold cannot tell. */
export function projectProperty(property: string, folded: PropertyState): PropertyRow {
  const state = { ...folded, property };
  const { body } = state;
  return {
    property,
    branch: body === null ? null : storableKey(body.branch),
    search: searchText(state),
    state: canonicalJson(state),
  };
}

/** What a property is searched by: name, street, town, customer and tags in lower case, one a line. */
export function searchText({ body, stations }: PropertyState): string {
  const words = [
    ...(body === null ? [] : [body.name, body.address.street, body.address.town, body.customer.name]),
    ...stations.flatMap(({ tag }) => (tag === null ? [] : [tag])),
  ];
  return words.map(foldText).join('\n');
}

/** Most words of a search text that are looked at, and most characters of each. */
const MOST_WORDS = 12;
const LONGEST_WORD = 80;

/** The words that must all be contained in a property's `search`. */
export function searchWords(text: string | undefined): readonly string[] {
  return foldText(text ?? '')
    .split(/\s+/u)
    .filter((word) => word !== '')
    .slice(0, MOST_WORDS)
    .map((word) => word.slice(0, LONGEST_WORD).toWellFormed());
}

/** Lower case, composed, one space where control characters or line ends stood (PostgreSQL text cannot hold NUL). */
function foldText(text: string): string {
  return text
    .toWellFormed()
    .normalize('NFC')
    .toLowerCase()
    .replace(/\p{Cc}+/gu, ' ');
}

/** A branch id that both databases can store and index, whatever a device sent. */
function storableKey(key: string): string {
  return key.toWellFormed().replaceAll('\u0000', '\uFFFD').slice(0, LONGEST_KEY).toWellFormed();
}
