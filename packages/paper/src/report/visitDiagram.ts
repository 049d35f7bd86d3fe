import { layOutSite, type Site, type SiteDrawing, SPANISH } from '@sillwatch/ring';
import { siteOf, stationMarkOf } from '@sillwatch/rounds';
import {
  type AnyFact,
  assessClearance,
  type Day,
  findMoment,
  foldProperty,
  type LabelProfile,
  type PropertyState,
} from '@sillwatch/trade';
import type { Block } from '../document/model.ts';
import type { Say } from './words/say.ts';

/** What the page leaves between its margins, millimetres. */
const WIDTH = 173;
/** From a narrow strip to most of a page: the least that still takes the site at its scale. */
const HEIGHTS = [80, 110, 140, 180] as const;

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
  const drawing = fit(site, marks, say);
  return [
    { kind: 'heading', level: 2, text: say('visit.diagram') },
    { kind: 'diagram', drawing, caption: say('visit.diagram.caption', { scale: String(drawing.scale) }) },
  ];
}

/** A correction counts whenever it was written: it says what was true on the day. */
function isKnownBy(fact: AnyFact, day: Day): boolean {
  const moment = findMoment(fact.at);
  return fact.kind === 'fact corrected' || moment === undefined || moment.day <= day;
}

function fit(
  site: Site,
  marks: ReadonlyMap<string, ReturnType<typeof stationMarkOf>>,
  say: Say,
): SiteDrawing {
  const draw = (heightMillimetres: number): SiteDrawing =>
    layOutSite(site, {
      medium: { kind: 'print', paper: { widthMillimetres: WIDTH, heightMillimetres }, scale: 'fit' },
      contrast: 'usual',
      units: 'ft',
      marks,
      heading: false,
      ...(say.lang === 'es-US' ? { words: SPANISH } : {}),
    });
  const [least, ...taller] = HEIGHTS;
  const drawings = [draw(least), ...taller.map(draw)];
  const scales = drawings.map(({ scale }) => scale ?? Number.POSITIVE_INFINITY);
  const best = scales.indexOf(Math.min(...scales));
  return drawings[best] ?? draw(least);
}
