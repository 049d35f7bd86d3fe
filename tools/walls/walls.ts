import { readdirSync, readFileSync, statSync } from 'node:fs';
import { dirname, join, relative, resolve, sep } from 'node:path';
import { parseSync, Visitor } from 'oxc-parser';

/** What one room may import, as ARCHITECTURE.md says. `node` = Node's own modules, `packages` = listed npm packages. */
export interface Room {
  readonly folder: string;
  readonly rooms: readonly string[];
  readonly pure: boolean;
  /** npm packages that a pure room may use; others are listed in the room's package.json */
  readonly packages?: readonly string[];
}

const PURE_NAMES = ['trade', 'ring', 'planner', 'figures', 'rounds'] as const;

export const ROOMS: readonly Room[] = [
  { folder: 'packages/trade', rooms: [], pure: true },
  { folder: 'packages/ring', rooms: ['trade/units'], pure: true, packages: ['clipper2-ts', 'flatbush'] },
  { folder: 'packages/planner', rooms: ['trade/units'], pure: true, packages: ['kdbush'] },
  { folder: 'packages/figures', rooms: ['trade/units'], pure: true },
  { folder: 'packages/rounds', rooms: ['trade', 'trade/units', 'ring', 'planner', 'figures'], pure: true },
  { folder: 'packages/ledger', rooms: ['trade', 'trade/units'], pure: false },
  {
    folder: 'packages/paper',
    rooms: ['trade', 'trade/units', 'ring', 'planner', 'figures', 'rounds'],
    pure: false,
  },
  {
    folder: 'apps/web',
    rooms: ['trade', 'trade/units', 'ring', 'planner', 'figures', 'rounds'],
    pure: false,
  },
  { folder: 'demo', rooms: ['trade', 'trade/units', 'ring'], pure: false },
  {
    folder: 'apps/server',
    rooms: [...PURE_NAMES, 'trade/units', 'ledger', 'paper', 'demo'],
    pure: false,
  },
  {
    folder: 'apps/cli',
    rooms: [...PURE_NAMES, 'trade/units', 'ledger', 'paper', 'demo', 'server'],
    pure: false,
  },
];

/**
 * Names that reach a clock, randomness, the console, the network or the machine: banned in pure rooms. What only a browser
 * has (`window`, `document`) the compiler refuses there already, and both are everyday words here.
 */
const BANNED_GLOBALS = new Set([
  'Date',
  'Temporal',
  'performance',
  'console',
  'fetch',
  'WebSocket',
  'XMLHttpRequest',
  'process',
  'globalThis',
  'localStorage',
  'indexedDB',
  'crypto',
  'setTimeout',
  'setInterval',
  'setImmediate',
  'queueMicrotask',
  'require',
  'Buffer',
  'eval',
]);

export const CEILING_LINES = 500;

/** Files over the ceiling, each with the reason that lets it stand. */
export const OVER_CEILING: Readonly<Record<string, string>> = {};

export interface Breach {
  readonly file: string;
  readonly line: number;
  readonly what: string;
}

export interface WallReport {
  readonly filesRead: number;
  readonly filesByRoom: Readonly<Record<string, number>>;
  readonly importsRead: number;
  readonly breaches: readonly Breach[];
}

/** Reads every source file below each room and reports what climbs over a wall. */
export function checkWalls(root: string): WallReport {
  const breaches: Breach[] = [];
  const filesByRoom: Record<string, number> = {};
  let filesRead = 0;
  let importsRead = 0;
  for (const room of ROOMS) {
    const files = listSources(join(root, room.folder));
    filesByRoom[room.folder] = files.length;
    for (const path of files) {
      const file = relative(root, path).split(sep).join('/');
      const text = readFileSync(path, 'utf8');
      const found = checkFile(room, root, path, text);
      importsRead += found.imports;
      filesRead += 1;
      for (const breach of found.breaches) breaches.push({ file, ...breach });
    }
  }
  return { filesRead, filesByRoom, importsRead, breaches };
}

/** The breaches of one file's text; `path` decides whether it is source (bans apply) or a test (only the ceiling and climbing do). */
export function checkFile(
  room: Room,
  root: string,
  path: string,
  text: string,
): {
  readonly imports: number;
  readonly breaches: readonly { readonly line: number; readonly what: string }[];
} {
  const breaches: { line: number; what: string }[] = [];
  const file = relative(root, path).split(sep).join('/');
  const inSource = file.startsWith(`${room.folder}/src/`);
  const lineOf = (offset: number): number => text.slice(0, offset).split('\n').length;
  const add = (offset: number, what: string): void => {
    breaches.push({ line: lineOf(offset), what });
  };

  const lines = text.split('\n').length;
  if (lines > CEILING_LINES + 1 && OVER_CEILING[file] === undefined) {
    breaches.push({
      line: CEILING_LINES,
      what: `${lines} lines, over the ceiling of ${CEILING_LINES}: split it`,
    });
  }

  const parsed = parseSync(path, text);
  if (parsed.errors.length > 0)
    breaches.push({ line: 1, what: `does not parse: ${parsed.errors[0]?.message ?? ''}` });

  let imports = 0;
  const checkImport = (specifier: string, offset: number): void => {
    imports += 1;
    const why = importBreach(room, root, path, specifier, inSource);
    if (why !== undefined) add(offset, why);
  };

  const visitor = new Visitor({
    ImportDeclaration: (node) => checkImport(node.source.value, node.start),
    ExportAllDeclaration: (node) => checkImport(node.source.value, node.start),
    ExportNamedDeclaration: (node) => {
      if (node.source !== null) checkImport(node.source.value, node.start);
    },
    ImportExpression: (node) => {
      if (node.source.type === 'Literal' && typeof node.source.value === 'string')
        checkImport(node.source.value, node.start);
      else if (room.pure && inSource) add(node.start, 'import() of a computed path in a pure room');
    },
    TSAnyKeyword: (node) => {
      if (inSource) add(node.start, 'any');
    },
    TSNonNullExpression: (node) => {
      if (inSource) add(node.start, 'non-null assertion (!)');
    },
    TSAsExpression: (node) => {
      if (!room.pure || !inSource) return;
      const { typeAnnotation } = node;
      const isConst =
        typeAnnotation.type === 'TSTypeReference' &&
        typeAnnotation.typeName.type === 'Identifier' &&
        typeAnnotation.typeName.name === 'const';
      if (!isConst) add(node.start, 'type assertion (as) in a pure room');
    },
    TSTypeAssertion: (node) => {
      if (room.pure && inSource) add(node.start, 'type assertion (<T>) in a pure room');
    },
    MemberExpression: (node) => {
      if (!room.pure || !inSource) return;
      if (node.object.type === 'Identifier' && node.object.name === 'Math' && !node.computed) {
        if (node.property.type === 'Identifier' && node.property.name === 'random')
          add(node.start, 'Math.random in a pure room');
      }
      checkGlobal(node.object, add, room, inSource);
    },
    CallExpression: (node) => checkGlobal(node.callee, add, room, inSource),
    NewExpression: (node) => checkGlobal(node.callee, add, room, inSource),
  });
  visitor.visit(parsed.program);
  return { imports, breaches };
}

function checkGlobal(
  node: { readonly type: string; readonly start: number; readonly name?: unknown },
  add: (offset: number, what: string) => void,
  room: Room,
  inSource: boolean,
): void {
  if (!room.pure || !inSource || node.type !== 'Identifier') return;
  if (typeof node.name === 'string' && BANNED_GLOBALS.has(node.name)) {
    add(node.start, `${node.name} in a pure room: hand it in as an argument`);
  }
}

function importBreach(
  room: Room,
  root: string,
  path: string,
  specifier: string,
  inSource: boolean,
): string | undefined {
  const home = join(root, room.folder);
  if (specifier.startsWith('.')) {
    const target = resolve(dirname(path), specifier.replace(/\?.*$/, ''));
    const inside = target === home || target.startsWith(home + sep);
    const shared = !inSource && target.startsWith(join(root, 'tools') + sep);
    return inside || shared ? undefined : `climbs out of its room: ${specifier}`;
  }
  if (specifier.startsWith('@sillwatch/')) {
    const name = specifier.slice('@sillwatch/'.length);
    const own = room.folder.split('/').at(-1);
    if (!inSource) return undefined;
    return name === own || room.rooms.includes(name) ? undefined : `may not import ${specifier}`;
  }
  if (room.pure && inSource) {
    const allowed = room.packages ?? [];
    const bare = specifier.startsWith('@')
      ? specifier.split('/').slice(0, 2).join('/')
      : specifier.split('/')[0];
    return bare !== undefined && allowed.includes(bare)
      ? undefined
      : `a pure room may not import ${specifier}`;
  }
  return undefined;
}

function listSources(folder: string): string[] {
  const found: string[] = [];
  const walk = (at: string): void => {
    for (const name of readdirSync(at).sort()) {
      if (name === 'node_modules' || name === 'dist' || name === 'fixtures') continue;
      const path = join(at, name);
      if (statSync(path).isDirectory()) walk(path);
      else if (/\.(ts|tsx|mts)$/.test(name) && !name.endsWith('.d.ts')) found.push(path);
    }
  };
  walk(folder);
  return found;
}
