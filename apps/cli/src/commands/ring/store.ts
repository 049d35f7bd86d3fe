import { movedSite, type Site, tangentPlane } from '@sillwatch/ring';
import { isAt, listStructureChanges, listSurroundings } from '@sillwatch/rounds';
import type { PropertyState } from '@sillwatch/trade';
import { type CommonOptions, type Context, getProperty, print, withLedger } from '../../context.ts';
import { CommandError, EXIT, type Io } from '../../io.ts';
import { appendEntry } from '../../terminal.ts';

export interface StoreOptions {
  /** store: the property that the drawing is of */
  readonly property?: string;
  /** store: who drew it */
  readonly by?: string;
  /** store: take off structures that the drawing no longer has */
  readonly removeMissing?: boolean;
  /** store: why stations of the property stand elsewhere on the drawing; without it they stay */
  readonly moveStations?: string;
}

/**
 * `sillwatch ring store FILE --property ID`: records the drawing as entries, only what differs from what is stored, so that
 * `ring read` gives it back. Stations of the file that the property does not have are not recorded: one is when it is set.
 */
export function storeDrawing(io: Io, drawn: Site, options: CommonOptions & StoreOptions): Promise<number> {
  if (options.property === undefined)
    throw new CommandError(EXIT.usage, '--property is missing', 'Name the property that was drawn.');
  const { property: asked } = options;
  return withLedger(io, options, async (context) => {
    const property = await getProperty(context, asked);
    const done: string[] = [];
    const recorder = createRecorder(context, property, options.by ?? 'terminal', done);
    const site = await onOwnPlane(drawn, property, recorder);
    await storeStructures(site, property, options, recorder);
    for (const { kind, body } of listSurroundings(property, site))
      await recorder.record(kind, null, body, 'the surroundings');
    const left = await moveStations(site, property, options, recorder);
    print(context, { property: property.property, recorded: done, notRecorded: left }, () =>
      [
        done.length === 0
          ? 'Nothing on it is new.'
          : `Recorded for ${property.property}: ${done.join('; ')}.`,
        ...left,
        '',
      ].join('\n'),
    );
    return EXIT.ok;
  });
}

type Recorder = ReturnType<typeof createRecorder>;

function createRecorder(context: Context, property: PropertyState, by: string, done: string[]) {
  const timeZone = property.body?.timeZone ?? 'UTC';
  return {
    async record<K extends Parameters<typeof appendEntry>[1]['kind']>(
      kind: K,
      station: string | null,
      body: Parameters<typeof appendEntry<K>>[1]['body'],
      what: string,
    ): Promise<void> {
      await appendEntry(context, { kind, property: property.property, station, by, timeZone, body });
      done.push(what);
    },
  };
}

/** The drawing in metres from the property's own origin; the first drawing with a position gives the property its own. */
async function onOwnPlane(drawn: Site, property: PropertyState, recorder: Recorder): Promise<Site> {
  const from = drawn.georeference;
  const to = property.body?.position ?? null;
  if (from === undefined) return drawn;
  if (to === null) {
    const isDrawn =
      property.structures.some(({ outline }) => outline !== null) ||
      property.stations.some(({ position }) => position !== null);
    if (isDrawn)
      throw new CommandError(
        EXIT.usage,
        `${property.property} is drawn in metres from a place that is not known, and this file lies on the earth`,
        'Write its drawing with `sillwatch ring read`, mend that file, and store it again.',
      );
    await recorder.record('property changed', null, { position: from }, 'the position');
    return drawn;
  }
  if (from.longitude === to.longitude && from.latitude === to.latitude) return drawn;
  const away = tangentPlane(from);
  const own = tangentPlane(to);
  return movedSite(drawn, (at) => {
    const { longitude, latitude } = away.toDegrees(at);
    return own.toMetres(longitude, latitude);
  });
}

async function storeStructures(
  site: Site,
  property: PropertyState,
  { removeMissing }: StoreOptions,
  recorder: Recorder,
): Promise<void> {
  const names = new Map(property.structures.map(({ structure, name }) => [structure, name || structure]));
  const whyRemoved = removeMissing === true ? 'not on the latest drawing' : null;
  for (const change of listStructureChanges(property, site, whyRemoved))
    if (change.kind === 'structure added')
      await recorder.record(change.kind, null, change.body, change.body.name || change.body.structure);
    else
      await recorder.record(
        change.kind,
        null,
        change.body,
        `${names.get(change.body.structure) ?? change.body.structure} taken off`,
      );
}

/** What was left as it is, in words. */
async function moveStations(
  site: Site,
  property: PropertyState,
  { moveStations: why, removeMissing }: StoreOptions,
  recorder: Recorder,
): Promise<readonly string[]> {
  const left: string[] = [];
  const known = new Map(property.stations.map((state) => [state.station, state]));
  const strangers = site.stations.filter(({ id }) => !known.has(id));
  if (strangers.length > 0)
    left.push(
      `${strangers.length} stations of the drawing are not this property's and were not recorded: a station is recorded when it is set.`,
    );
  for (const { id, number, at } of site.stations) {
    const state = known.get(id);
    if (state === undefined) continue;
    if (isAt(state.position, [at.x, at.y])) continue;
    if (why === undefined)
      left.push(
        `Station ${number} stands elsewhere on the drawing and was left: --move-stations WHY moves it.`,
      );
    else
      await recorder.record('station moved', id, { position: [at.x, at.y], why }, `station ${number} moved`);
  }
  const drawn = new Set(site.structures.map(({ id }) => id));
  const missing = property.structures.filter(
    ({ structure, outline }) => outline !== null && !drawn.has(structure),
  );
  if (missing.length > 0 && removeMissing !== true)
    left.push(
      `Not on the drawing and left: ${missing.map(({ name, structure }) => name || structure).join(', ')}. --remove-missing takes them off.`,
    );
  return left;
}
