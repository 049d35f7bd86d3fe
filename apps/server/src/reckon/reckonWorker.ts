/** Runs in a worker thread: facts in, figures out. Touches no database. */
import { parentPort } from 'node:worker_threads';
import { figureAnswer, groupByProperty, readSubjects } from '@sillwatch/rounds';
import type { AnyFact } from '@sillwatch/trade';
import { modelsOf } from '../work/firm.ts';
import { answerLoad } from './loadAnswers.ts';
import type { FigureQuestion, ReckonMessage, ReckonQuestion } from './reckoner.ts';

const port = parentPort;
if (port === null) throw new Error('this file runs as a worker only');
const facts: AnyFact[] = [];
port.on('message', (message: ReckonMessage) => {
  if (message.kind === 'facts') facts.push(...message.facts);
  else port.postMessage(answer(message.question));
});

/** As the text that goes out: turning a large answer into JSON is work that phones should not wait for either. */
function answer(question: ReckonQuestion): string {
  if (question.name !== 'load') return JSON.stringify(figures(question));
  const { asked, firm, asOf } = question;
  return JSON.stringify(answerLoad(asked, facts, firm, modelsOf(firm), asOf));
}

function figures({ name, firm, branch, asOf }: FigureQuestion): unknown {
  const read = readSubjects(groupByProperty(facts), firm.profiles);
  const subjects = read.subjects.filter((subject) => branch === null || subject.branch === branch);
  return figureAnswer(name, { ...read, subjects, firm, facts }, asOf);
}
