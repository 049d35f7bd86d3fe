/**
 * Child of the kill test: several writers append small batches as fast as they can and say each acknowledged id, only after
 * `append` has answered. Arguments: database URL, seed, number of the run.
 */
import { writeSync } from 'node:fs';
import { createFactMaker, RECEIVED } from './facts.ts';
import { createRandom } from './random.ts';
import { open } from './targets.ts';

const [, , url = '', seed = '1', run = '1'] = process.argv;
const WRITERS = 6;

const ledger = await open(url);

async function write(writer: number): Promise<void> {
  const random = createRandom(Number(seed) * 100 + writer);
  const maker = createFactMaker('firm-a', Number(seed) * 100 + writer, `run-${run}-writer-${writer}`);
  for (let count = 0; ; count += 1) {
    // Now and then a property that another writer touches too, so that they meet in one projection.
    const property = random.below(4) === 0 ? `shared-${run}` : `p-${run}-${writer}-${Math.floor(count / 20)}`;
    const batch = Array.from({ length: 1 + random.below(5) }, () => maker.noted(property, `note ${count}`));
    const verdicts = await ledger.append('firm-a', batch, RECEIVED);
    // A synchronous write: once it returned, the pipe has it even if this process dies.
    for (const { id, verdict } of verdicts) writeSync(1, `${verdict} ${id}\n`);
  }
}

await Promise.all(Array.from({ length: WRITERS }, (_, writer) => write(writer)));
