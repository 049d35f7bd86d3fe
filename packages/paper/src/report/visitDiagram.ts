import { layOutSite, type Site } from '@sillwatch/ring';
import { siteOf, stationMarkOf } from '@sillwatch/rounds';
import {
  type AnyFact,
  assessClearance,
  CORRECTION,
  type Day,
  findMoment,
  foldProperty,
  type LabelProfile,
  type PropertyState,
} from '@sillwatch/trade';
import type { Block } from '../document/model.ts';
import { DIAGRAM_WORDS, type Say } from './words/say.ts';

/** What the page leaves between its margins, millimetres. */
const WIDTH = 173;
/** Most of a page: the drawing takes what the site needs of it. */
const GREATEST_HEIGHT = 180;

/**
 * The diagram with every station as the visit left it, on the ground as it is drawn now. Nothing where neither a structure
 * nor a station has a place yet.
 */
export function diagramBlocks(
  property: PropertyState,
  facts: readonly AnyFact[],
  day: Day | null,
  profile: LabelProfile | null,
  say: Say,
): readonly Block[] {
  const then = day === null ? property : foldProperty(facts.filter((fact) => isKnownBy(fact, day)));
  const site: Site = { ...siteOf(property), stations: siteOf(then).stations };
  if (site.structures.length === 0 && site.stations.length === 0) return [];
  const marks = new Map(
    then.stations.map((state) => [
      state.station,
      stationMarkOf(profile === null ? state : assessClearance(state, profile)),
    ]),
  );
  const paper = { widthMillimetres: WIDTH, heightMillimetres: GREATEST_HEIGHT, isSnug: true };
  const drawing = layOutSite(site, {
    medium: { kind: 'print', paper, scale: 'fit' },
    contrast: 'usual',
    units: 'ft',
    marks,
    heading: false,
    words: DIAGRAM_WORDS[say.lang],
  });
  return [
    { kind: 'heading', level: 2, text: say('visit.diagram') },
    { kind: 'diagram', drawing, caption: say('visit.diagram.caption', { scale: String(drawing.scale) }) },
  ];
}

/** A correction counts whenever it was written: it says what was true on the day. */
function isKnownBy(fact: AnyFact, day: Day): boolean {
  const moment = findMoment(fact.at);
  return fact.kind === CORRECTION || moment === undefined || moment.day <= day;
}
