import { join, resolve } from 'node:path';
import { describe, expect, it } from 'vitest';
import { CEILING_LINES, checkFile, checkWalls, OVER_CEILING, ROOMS, type Room } from '../walls/walls.ts';

const root = resolve(import.meta.dirname, '../..');

describe('the walls between rooms', () => {
  const report = checkWalls(root);

  it('reads every room (a check that read nothing would pass silently)', () => {
    expect(report.filesRead).toBeGreaterThan(25);
    expect(report.importsRead).toBeGreaterThan(25);
    expect(report.filesByRoom['packages/trade']).toBeGreaterThan(8);
    for (const room of ROOMS) expect(report.filesByRoom, room.folder).toHaveProperty(room.folder);
  });

  it('stand without exception', () => {
    expect(report.breaches.map(({ file, line, what }) => `${file}:${line} ${what}`)).toEqual([]);
  });

  it('let a file over the ceiling stand only with a reason', () => {
    for (const reason of Object.values(OVER_CEILING)) expect(reason.length).toBeGreaterThan(20);
  });
});

describe('each wall catches what climbs over it', () => {
  const pure: Room = { folder: 'packages/ring', rooms: ['trade/units'], pure: true, packages: ['flatbush'] };
  const inside = join(root, 'packages/ring/src/deep/file.ts');
  const breachesOf = (text: string, room = pure, path = inside): string[] =>
    checkFile(room, root, path, text).breaches.map((breach) => breach.what);

  it.each([
    ["import { x } from '../../../trade/src/index.ts';", /climbs/],
    ["export * from '../../../../apps/web/src/a.ts';", /climbs/],
    ["import { x } from '@sillwatch/ledger';", /may not import @sillwatch\/ledger/],
    ["import { x } from '@sillwatch/trade';", /may not import @sillwatch\/trade/],
    ["import fs from 'node:fs';", /may not import node:fs/],
    ["const m = await import('luxon');", /may not import luxon/],
    ['const now = Date.now();', /Date/],
    ['const d = new Date();', /Date/],
    ['const r = Math.random();', /random/],
    ["console.log('x');", /console/],
    ["fetch('http://127.0.0.1');", /fetch/],
    ['const e = process.env;', /process/],
    ['const a: any = 1;', /any/],
    ['const b = list[0]!;', /non-null/],
    ['const c = list as string;', /assertion/],
    ['const c = crypto.randomUUID();', /crypto/],
    [`${'const x = 1;\n'.repeat(CEILING_LINES + 2)}`, /ceiling/],
    ['const = ;', /parse/],
  ])('%s', (text, expected) => {
    expect(breachesOf(text).join('\n')).toMatch(expected);
  });

  it('lets through what the table allows', () => {
    const text = [
      "import Flatbush from 'flatbush';",
      "import { metres } from '@sillwatch/trade/units';",
      "import { near } from '../near.ts';",
      'const words = [1, 2] as const;',
      'const Dated = words.map((Date) => Date + 1);',
    ].join('\n');
    expect(breachesOf(text)).toEqual([]);
  });
});
