import { PAPER_LANGUAGES } from '@sillwatch/paper';
import { Command, CommanderError, Option } from 'commander';
import { runBundle } from './commands/bundle.ts';
import { runCalendar } from './commands/calendar.ts';
import { runDue } from './commands/due.ts';
import { runFigures } from './commands/figures.ts';
import { runBranch, runProfile } from './commands/firm.ts';
import { runImport } from './commands/import.ts';
import { runBackup, runExport, runRebuild, runRestore, runVerify } from './commands/keep.ts';
import { runLabels } from './commands/labels.ts';
import { runLoad } from './commands/load.ts';
import { runOrder } from './commands/order.ts';
import { runPlan, runRound } from './commands/plan.ts';
import { runProperty } from './commands/property.ts';
import { runRecord } from './commands/record.ts';
import { type LettersOptions, runMonthOfLetters } from './commands/renewals.ts';
import {
  runApplicationsReport,
  runRenewalLetter,
  runStationsReport,
  runVisitReport,
  runWorkList,
} from './commands/report.ts';
import { runRing } from './commands/ring.ts';
import { runDemo, runServe } from './commands/serve.ts';
import { runSoil } from './commands/soil.ts';
import { runSteps } from './commands/steps.ts';
import { EXIT, type Io } from './io.ts';

export interface Program {
  /** Runs one call and gives its exit code; CommandError carries its own. */
  run(args: readonly string[]): Promise<number>;
}

const ABOUT = `Looks after in-ground termite stations: what is due, what to do at each station and why, what was done.

A first walk, with an invented firm:
  $ sillwatch demo                                  start it and open the page it names
  $ sillwatch due --data .data/demo                 what is due there today
  $ sillwatch property --data .data/demo            its properties
  $ sillwatch steps property-001 3 --data .data/demo --task "yearly service" --termites "live on bait" --bait-left half

With your own book:
  $ sillwatch serve                                 set the firm up in the browser
  $ sillwatch branch main --name "Main office" --time-zone America/New_York
  $ sillwatch profile --template > mine.json        fill in the numbers of your label, then: profile --set mine.json
  $ sillwatch import book.xlsx --dry-run            see what would be read, and every row that needs mending

Exit codes: 0 done; 1 done, and something was found wrong; 2 the call is off; 3 what was named does not exist.
The ledger is the SQLite file in --data, or the PostgreSQL database that DATABASE_URL names.`;

export function buildProgram(io: Io): Program {
  let exitCode: number = EXIT.ok;
  const program = new Command('sillwatch')
    .description(ABOUT)
    .exitOverride()
    .configureOutput({ writeOut: io.out, writeErr: io.err })
    .showSuggestionAfterError()
    .showHelpAfterError('(see --help)');

  /** A command with the options that all share; its action's result is the exit code. */
  const command = (name: string, description: string, example: string): Command =>
    program
      .command(name)
      .description(description)
      .addHelpText('after', `\nExample:\n  $ sillwatch ${example}`)
      .option('--data <folder>', 'folder of the ledger', io.env['SILLWATCH_DATA'] ?? '.data')
      .option('--firm <id>', 'which firm, where the ledger holds several')
      .option('--json', 'print JSON instead of text');
  const action =
    <Args extends unknown[]>(work: (...args: Args) => Promise<number>) =>
    async (...args: Args): Promise<void> => {
      exitCode = await work(...args);
    };

  command('serve', 'Serve the app and its API.', 'serve --port 7070')
    .option('--port <number>', 'port to listen on', '7070')
    .option('--host <address>', 'address to listen on', '127.0.0.1')
    .action(action((options) => runServe(io, options)));
  command('demo', 'Serve an invented firm: three years of records, on this machine only.', 'demo --port 7070')
    .option('--port <number>', 'port to listen on', '7070')
    .option('--seed <number>', 'another invented firm', '20261125')
    .option('--properties <number>', 'how many properties', '60')
    .option('--no-open', 'do not open a browser')
    .action(action((options) => runDemo(io, options)));
  command(
    'branch',
    'The branches of the firm, or a new one.',
    'branch main --name "Main office" --time-zone America/New_York',
  )
    .argument('[branch]', 'id of a new branch')
    .option('--name <words>', 'its name')
    .option('--time-zone <zone>', 'IANA time zone')
    .option('--by <person>', 'who records it', 'terminal')
    .action(action((id, options) => runBranch(io, id, options)));
  command(
    'profile',
    'The label profiles of the firm: the numbers that its label and local code require.',
    'profile --template > mine.json',
  )
    .option('--template', 'print an invented profile to fill in')
    .option('--set <file>', 'record the profile in this JSON file')
    .option('--by <person>', 'who records it', 'terminal')
    .action(action((options) => runProfile(io, options)));
  command(
    'import',
    'Read properties, stations and past visits from CSV or XLSX files.',
    'import book.xlsx --dry-run',
  )
    .argument('[file...]', 'CSV or XLSX files')
    .option('--list', 'what was imported, the latest first')
    .option('--undo <import>', 'take one import back, by the id that --list shows')
    .option('--why <words>', 'undo: the reason, which stands in the record of each entry')
    .option('--even-so', 'undo: also where later entries lean on it; they are passed over')
    .option('--mapping <file>', 'JSON file that overrides the guessed columns')
    .option('--save-mapping <file>', 'write the guessed mapping there, to be edited')
    .option('--dry-run', 'show what would be read and every problem; append nothing')
    .option('--by <person>', 'who imports', 'terminal')
    .action(action((files, options) => runImport(io, files, options)));
  command(
    'due',
    'What is owed: late, open, and by what day.',
    'due --until 2026-12-31 --branch branch-upland',
  )
    .option('--as-of <day>', 'the day asked about (YYYY-MM-DD); today where the property is')
    .option('--until <day>', 'also what opens up to this day')
    .option('--branch <id>', 'one branch only')
    .option('--property <id>', 'one property only')
    .option('--work <kind>', 'one kind of work only, for example "yearly service"')
    .option('--late', 'late work only')
    .action(action((options) => runDue(io, options)));
  command(
    'property',
    'The properties, or one with its stations, what is owed at each, and its history.',
    'property property-001 --history',
  )
    .argument('[property]', 'id, or words of its name, street, town, or a tag')
    .option('--find <words>', 'only those with these words')
    .option('--as-of <day>', 'the day asked about (YYYY-MM-DD)')
    .option('--history', 'with every entry of its ledger')
    .action(action((id, options) => runProperty(io, id, options)));
  withFinding(
    command(
      'steps',
      'What to do at a station now, and why. Records nothing.',
      'steps property-001 3 --termites "live on monitor"',
    ),
  )
    .argument('<property>', 'id or words')
    .argument('<station>', 'number on the ring, tag or id')
    .action(action((property, station, options) => runSteps(io, property, station, options)));
  withFinding(
    command(
      'record',
      'Record that a station was seen and its steps were followed.',
      'record property-001 3 --by person-harbour',
    ),
  )
    .argument('<property>', 'id or words')
    .argument('<station>', 'number on the ring, tag or id')
    .requiredOption('--by <person>', 'who saw it')
    .option('--at <time>', 'when (RFC 3339 with offset); now where the property is')
    .option('--visit <id>', 'the visit it belongs to; by default one for the property and day')
    .option('--minutes <number>', 'minutes spent at the station')
    .option('--note <words>', 'a note')
    .option('--applicator <name>', 'certified applicator, where bait goes in (7 CFR 110.3)')
    .option('--certification <number>', 'the applicator’s certification number')
    .option('--supervised <name>', 'who applied it under supervision')
    .action(action((property, station, options) => runRecord(io, property, station, options)));
  withPaper(
    command(
      'report',
      'Print a paper: a visit, a property’s stations, the applications of a period, a day’s work list, a renewal letter or those of a month.',
      'report visit property-001-v3 --format pdf --out visit.pdf',
    ),
  )
    .argument('<paper>', 'visit, stations, applications, worklist or renewal')
    .argument('[id]', 'the visit, the property, or who drives the round')
    .action(
      action((paper: string, id: string | undefined, options: LettersOptions) => {
        switch (paper) {
          case 'visit':
            return runVisitReport(io, id, options);
          case 'stations':
            return runStationsReport(io, id, options);
          case 'applications':
            return runApplicationsReport(io, options);
          case 'worklist':
            return runWorkList(io, id, options);
          case 'renewal':
            return options.month === undefined
              ? runRenewalLetter(io, id, options)
              : runMonthOfLetters(io, options.month, id, options);
          default:
            io.err(
              `sillwatch: no paper ${JSON.stringify(paper)}\nUse visit, stations, applications, worklist or renewal.\n`,
            );
            return Promise.resolve(EXIT.usage);
        }
      }),
    );
  withLang(
    command(
      'labels',
      'Print tag labels with codes: of a property’s stations, or of tags that nothing carries yet.',
      'labels --prefix SW- --first 0001 --count 60 --out labels.pdf',
    ),
  )
    .argument('[property]', 'id or words; without it, new tags')
    .requiredOption('--out <file>', 'PDF file to write')
    .option('--stock <name>', 'grid of the labels, or a JSON file with its numbers', 'letter 3x10')
    .option('--skip <number>', 'labels of the first sheet that are used up', '0')
    .option('--only <numbers>', 'stations of the property by number, for example 1-10,14')
    .option('--prefix <words>', 'new tags: what each begins with', '')
    .option('--first <number>', 'new tags: the first number, with its zeros')
    .option('--count <number>', 'new tags: how many', '30')
    .action(action((id, options) => runLabels(io, id, options)));
  withLang(
    command(
      'calendar',
      'Write an iCalendar file: the rounds of a technician, or the next visits at a property.',
      'calendar property property-001 --out visits.ics',
    ),
  )
    .argument('<what>', 'rounds or property')
    .argument('<id>', 'who drives the rounds, or the property')
    .option('--out <file>', 'file to write; standard output otherwise')
    .option('--as-of <day>', 'the day asked about (YYYY-MM-DD)')
    .action(action((what, id, options) => runCalendar(io, what, id, options)));
  withLang(
    command(
      'bundle',
      'Write an inspector’s bundle: the application record, the entries behind it, and a proof that anyone can check.',
      'bundle record-2026.zip --from 2026-01-01 --to 2026-12-31',
    ),
  )
    .argument('<file>', 'ZIP file to write')
    .option('--from <day>', 'applications from this day')
    .option('--to <day>', 'applications up to this day')
    .option('--property <id>', 'at one property')
    .option('--product <number>', 'of one EPA registration number')
    .option('--technician <person>', 'by one person')
    .option('--whole', 'every entry of the firm, so that the chain is recomputed from its beginning')
    .action(action((file, options) => runBundle(io, file, options)));
  withRing(
    command(
      'ring',
      'Where stations go, what a ring leaves unguarded, the shortest walk, the diagram: of a GeoJSON site or a property. Stores a drawing and reads it back.',
      'ring propose site.geojson --spacing "10 ft" --nearest "6 in" --farthest "2 ft" --clear-of-treated "2 ft" --near-concern "5 ft"',
    ),
  )
    .argument('<action>', 'propose, audit, walk, diagram, store or read')
    .argument('<what>', 'GeoJSON file of one site, or a property by id or words')
    .action(action((what, file, options) => runRing(io, what, file, options)));
  command(
    'plan',
    'The rounds of a branch over the coming weeks: who goes where on which day in which order.',
    'plan --branch branch-upland --weeks 4 --seconds 30',
  )
    .option('--branch <id>', 'which branch, where the firm has several')
    .option('--from <day>', 'first day (YYYY-MM-DD); tomorrow where the branch is')
    .option('--weeks <number>', 'how many weeks, 1 to 13', '4')
    .option('--seconds <number>', 'how long to search', '30')
    .option(
      '--iterations <number>',
      'search so many steps in one thread instead: the same seed gives the same rounds',
    )
    .option('--seed <number>', 'where chance begins', '1')
    .option('--publish', 'send the rounds out, so that phones and the next plan know them')
    .option('--by <person>', 'who sends them out', 'terminal')
    .option('--geojson <file>', 'also write the rounds as GeoJSON (RFC 7946)')
    .option('--calendar <file>', 'also write the rounds as iCalendar (RFC 5545)')
    .action(action((options) => runPlan(io, options)));
  command('round', 'One technician’s round as it was sent out.', 'round person-harbour 2026-12-01')
    .argument('<person>', 'account id of the technician')
    .argument('<day>', 'YYYY-MM-DD')
    .action(action((person, day, options) => runRound(io, person, day, options)));
  command(
    'load',
    'What to carry, so that no part runs out: for a round, for properties, for a branch. Or what a branch should order.',
    'load --branch branch-upland --until 2026-12-05 --chance 1',
  )
    .option('--as-of <day>', 'the day of the round, or the first day (YYYY-MM-DD)')
    .option('--until <day>', 'up to this day; otherwise a week')
    .option('--branch <id>', 'one branch only')
    .option('--technician <person>', 'the round that was published for this person and day')
    .option('--property <id...>', 'a round to these properties, with all that is open there')
    .option('--chance <percent>', 'accepted chance that a part runs out', '5')
    .option('--stock', 'what the branch should order, by its stock, packs and lead times')
    .action(action((options) => runLoad(io, options)));
  command(
    'order',
    'Parts on order: what is still to come; a new order, what came of one, or that the rest will not come.',
    'order new --branch branch-upland --part base-monitor --count 50 --reference "our 17"',
  )
    .argument('[action]', 'new, came or cancel')
    .argument('[order]', 'its id or reference')
    .option('--all', 'also what came or was cancelled')
    .option('--branch <id>', 'where it is to come')
    .option('--part <id>', 'which part')
    .option('--count <pieces>', 'how many; came: otherwise all that is to come')
    .option('--ordered-on <day>', 'YYYY-MM-DD; today where the branch is')
    .option('--expected-on <day>', 'YYYY-MM-DD; otherwise after the days that the part takes to come')
    .option('--reference <words>', "the supplier's number or your own", '')
    .option('--lot <lot>', 'came: as printed on the pack')
    .option('--usable-until <day>', 'came: last day of use')
    .option('--why <words>', 'cancel: why the rest will not come')
    .option('--by <person>', 'who records it', 'terminal')
    .action(action((what, order, options) => runOrder(io, what, order, options)));
  command(
    'soil',
    'When the soil at a branch is warm enough for termites to forage; off until its numbers are entered.',
    'soil branch-upland --mean 17 --amplitude 9 --coldest 01-20 --depth 0.3 --diffusivity 0.5 --forage-from 15 --source "our own weather records"',
  )
    .argument('<branch>', 'which branch')
    .option('--mean <degrees>', 'mean of the year at the surface, degrees Celsius')
    .option('--amplitude <degrees>', 'half of warmest less coldest month, degrees Celsius')
    .option('--coldest <day>', 'coldest day of the year (MM-DD)')
    .option('--depth <metres>', 'depth')
    .option('--diffusivity <number>', 'thermal diffusivity of the soil, square millimetres a second')
    .option('--forage-from <degrees>', 'degrees Celsius from which termites forage, by your own judgement')
    .option('--source <words>', 'where the numbers are from')
    .option('--off', 'turn it off')
    .option('--by <person>', 'who records it', 'terminal')
    .action(action((branch, options) => runSoil(io, branch, options)));
  command(
    'figures',
    'Is the book healthy, do the stations do their work: each figure with its sentence.',
    'figures efficacy --branch branch-upland',
  )
    .argument('<figures>', 'book, efficacy, risk, minutes, bait or criteria')
    .option('--as-of <day>', 'the day asked about (YYYY-MM-DD)')
    .option('--branch <id>', 'one branch only')
    .option('--most <lines>', 'risk: so many stations', '20')
    .action(action((figures, options) => runFigures(io, figures, options)));
  command('export', 'Write every entry of the firm, one JSON object a line.', 'export --out facts.ndjson')
    .option('--out <file>', 'file to write; standard output otherwise')
    .option('--property <id>', 'one property only')
    .action(action((options) => runExport(io, options)));
  command(
    'verify',
    'Walk the hash chain of the ledger: shows whether a stored entry was changed.',
    'verify',
  ).action(action((options) => runVerify(io, options)));
  command('rebuild', 'Throw away all computed state and compute it anew from the entries.', 'rebuild').action(
    action((options) => runRebuild(io, options)),
  );
  command('backup', 'Copy the ledger to a file while work goes on.', 'backup ledger-2026-11-25.sillwatch')
    .argument('<file>', 'file to write')
    .action(action((file, options) => runBackup(io, file, options)));
  command(
    'restore',
    'Bring a backup into an empty ledger and verify it.',
    'restore ledger-2026-11-25.sillwatch --data fresh',
  )
    .argument('<file>', 'file to read')
    .action(action((file, options) => runRestore(io, file, options)));

  return {
    run: async (args) => {
      if (args.length === 0) {
        program.outputHelp();
        return EXIT.usage;
      }
      try {
        await program.parseAsync([...args], { from: 'user' });
        return exitCode;
      } catch (error) {
        if (error instanceof CommanderError) return error.exitCode === 0 ? EXIT.ok : EXIT.usage;
        throw error;
      }
    },
  };
}

function withFinding(command: Command): Command {
  return command
    .option('--task <task>', 'check or "yearly service"', 'check')
    .option('--reach <reach>', 'opened, "not found" or blocked', 'opened')
    .option('--why <words>', 'why it could not be opened')
    .option('--termites <finding>', 'none, "signs only", "live on monitor" or "live on bait"', 'none')
    .option(
      '--bait-left <fraction>',
      '"no bait", full, "three quarters", half, "a quarter" or gone',
      'no bait',
    )
    .option('--monitor <condition>', 'sound, eaten, rotten, swollen, missing or "no monitor"', 'sound')
    .option(
      '--housing <condition>',
      'sound, "cap damaged", loose, flooded, "filled with soil" or broken',
      'sound',
    )
    .option('--occupants <who>', 'none, ants, "stinging insects", "spiders or snakes" or other', 'none');
}

function withRing(command: Command): Command {
  return withLang(command)
    .option('--units <unit>', 'ft or m: for bare numbers and for what is printed', 'ft')
    .option(
      '--out <file>',
      'file to write: .svg or .pdf for the diagram, .geojson for the site with its stations',
    )
    .option('--spacing <length>', 'greatest distance between stations, as the label says')
    .option('--nearest <length>', 'nearest to the wall')
    .option('--farthest <length>', 'farthest from the wall')
    .option('--clear-of-treated <length>', 'clearance from soil treated earlier')
    .option('--near-concern <length>', 'a station within this distance of each point of concern')
    .option('--invented-rules', 'the numbers of the invented demo profile, to try it out')
    .option('--only <numbers>', 'walk: the stations that are due, for example 1,2,7')
    .option('--all', 'walk: through every station of the property, not only those due')
    .option('--from <id>', 'walk: gate or station to start from, or truck; otherwise the truck, else a gate')
    .option('--to <where>', 'walk: start, anywhere, or the id of a gate or station', 'start')
    .option('--seed <number>', 'walk: another search beyond 15 stations', '1')
    .option('--scale <scale>', 'diagram: 100, 200 ... or fit', 'fit')
    .option('--landscape', 'diagram: the long side across')
    .option('--contrast <contrast>', 'diagram: usual or high', 'usual')
    .option('--wall-lengths', 'diagram: with the length of each wall')
    .option('--property <id>', 'store: the property that was drawn')
    .option('--by <person>', 'store: who drew it', 'terminal')
    .option(
      '--move-stations <why>',
      'store: stations that stand elsewhere on the drawing were moved, and why',
    )
    .option('--remove-missing', 'store: take off structures that the drawing no longer has');
}

function withLang(command: Command): Command {
  return command.addOption(
    new Option('--lang <language>', 'en-US or es-US').choices([...PAPER_LANGUAGES]).default('en-US'),
  );
}

function withPaper(command: Command): Command {
  return withLang(command)
    .addOption(
      new Option('--format <format>', 'html, pdf or csv').choices(['html', 'pdf', 'csv']).default('html'),
    )
    .option('--out <file>', 'file to write; standard output otherwise')
    .option('--as-of <day>', 'the day of the paper (YYYY-MM-DD)')
    .option('--from <day>', 'applications from this day')
    .option('--to <day>', 'applications up to this day')
    .option('--property <id>', 'applications at one property')
    .option('--product <number>', 'applications of one EPA registration number')
    .option('--technician <person>', 'applications recorded by one person')
    .option('--month <month>', 'renewal letters of all agreements that end in it (YYYY-MM), as one PDF')
    .addOption(
      new Option('--letters <language>', 'language of the letters of a month; own = each customer’s')
        .choices(['own', ...PAPER_LANGUAGES])
        .default('own'),
    )
    .addOption(
      new Option('--sides <sides>', 'both = no letter of a month begins on the back of another')
        .choices(['one', 'both'])
        .default('one'),
    );
}
