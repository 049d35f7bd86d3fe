/**
 * How long one visit report takes, from facts to PDF and to HTML: median and 95th percentile, milliseconds.
 * The report is checked outside the timed part. Usage: node bench/paper/report.ts [runs]
 */
import { renderHtml, renderPdf, visitReport } from '@sillwatch/paper';
import { type AnyFact, DEMO_PROFILE, foldProperty, getDay, STATION_MODELS } from '@sillwatch/trade';

const runs = Number(process.argv[2] ?? 60);
const STATIONS = 22;

function fact(seq: number, kind: string, station: string | null, body: unknown): AnyFact {
  const clock = `${String(seq).padStart(15, '0')}.00000`;
  const head = { id: `fact-${seq}`, firm: 'firm', property: 'property', by: 'account', device: 'device' };
  return { ...head, station, seq, at: '2026-03-04T09:00:00-05:00', clock, kind, body };
}

/** An invented yearly service of one house: feeding at one station, one blocked, the others served. */
function sampleFacts(): readonly AnyFact[] {
  let seq = 0;
  const next = (kind: string, station: string | null, body: unknown) => {
    seq += 1;
    return fact(seq, kind, station, body);
  };
  const facts = [
    next('property added', null, {
      name: 'Invented house',
      branch: 'branch',
      address: { street: '7 Marsh Lane', town: 'Example Springs', state: 'FL', postcode: '00000' },
      customer: { name: 'Ida Example', email: null, phone: null },
      timeZone: 'America/New_York',
      profile: DEMO_PROFILE.id,
      agreement: null,
      accessNotes: '',
      hazards: '',
      position: null,
    }),
    next('structure added', null, { structure: 'house', name: 'House', foundation: 'slab', outline: null }),
  ];
  for (let number = 1; number <= STATIONS; number += 1) {
    const install = { structure: 'house', number, tag: null, model: 'two-part', position: null };
    const rest = { auxiliary: false, visit: null, inserts: [], application: null };
    facts.push(next('station installed', `s${number}`, { ...install, ...rest }));
  }
  for (let number = 1; number <= STATIONS; number += 1) {
    const feeding = number === 3;
    const blocked = number === 12;
    const served = !feeding && !blocked;
    facts.push(
      next('station seen', `s${number}`, {
        visit: 'visit',
        task: 'yearly service',
        finding: blocked
          ? { reach: 'blocked', why: 'parked car' }
          : {
              reach: 'opened',
              termites: feeding ? 'live on bait' : 'none',
              baitLeft: feeding ? 'half' : 'no bait',
              monitor: number % 5 === 0 ? 'rotten' : 'sound',
              housing: 'sound',
              occupants: number % 7 === 0 ? 'ants' : 'none',
            },
        work: {
          yearlyServiceDone: served,
          baseMonitorLifted: served,
          cleanedOut: served,
          fitted: served
            ? [
                { slot: 'base', insert: 'monitor' },
                { slot: 'top', insert: 'monitor' },
              ]
            : [],
          withdrawn: [],
          partsUsed: served ? { 'base-monitor': 1, 'top-monitor': 1 } : {},
          minutes: 4,
        },
        application: null,
        note: '',
        photos: [],
      }),
    );
  }
  facts.push(
    next('visit closed', null, {
      visit: 'visit',
      task: 'yearly service',
      technician: 'Pat Example',
      licenceNumber: 'LIC-INV-42',
      startedAt: '2026-03-04T08:00:00-05:00',
      note: '',
    }),
  );
  return facts;
}

const facts = sampleFacts();
const property = foldProperty(facts);

function report() {
  return visitReport({
    firm: { name: 'Invented Sill Care', lines: ['1 Practice Road, Example Springs, FL 00000'] },
    property,
    facts,
    visit: 'visit',
    profile: DEMO_PROFILE,
    models: Object.fromEntries(STATION_MODELS.map((model) => [model.id, model])),
    due: { items: [], held: [], clearStructures: [] },
    asOf: getDay('2026-03-04'),
    writtenAt: '2026-03-04T17:00:00-05:00',
  });
}

async function timed(name: string, run: () => unknown): Promise<void> {
  const times: number[] = [];
  for (let index = 0; index < runs; index += 1) {
    const start = performance.now();
    await run();
    times.push(performance.now() - start);
  }
  const sorted = times.toSorted((a, b) => a - b);
  const at = (share: number) => sorted[Math.min(sorted.length - 1, Math.floor(sorted.length * share))] ?? 0;
  console.log(`${name}: median ${at(0.5).toFixed(1)} ms, p95 ${at(0.95).toFixed(1)} ms (${runs} runs)`);
}

const coldStart = performance.now();
const bytes = await renderPdf(report());
const coldMs = performance.now() - coldStart;
const pages =
  Buffer.from(bytes)
    .toString('latin1')
    .match(/\/Type \/Page\b/g)?.length ?? 0;
const seen = report().blocks.flatMap((block) => (block.kind === 'table' ? block.rows : [])).length;
if (seen < STATIONS || pages !== 3)
  throw new Error(`expected 3 pages and ${STATIONS} rows, got ${pages} and ${seen}`);
console.log(
  `visit report, ${STATIONS} stations, ${pages} pages, ${bytes.length} bytes, first of the process ${coldMs.toFixed(0)} ms`,
);
await timed('facts to PDF', () => renderPdf(report()));
await timed('facts to HTML', () => renderHtml(report()));
