/** Runs in a worker thread: facts in, figures out. Touches no database; keeps what it read from one question to the next. */
import { parentPort } from 'node:worker_threads';
import { createFigureDesk } from './figureDesk.ts';
import type { ReckonAnswer, ReckonMessage } from './questions.ts';

const port = parentPort;
if (port === null) throw new Error('this file runs as a worker only');
const desk = createFigureDesk();
const post = (answer: ReckonAnswer): void => port.postMessage(answer);

port.on('message', (message: ReckonMessage) => {
  switch (message.kind) {
    case 'property':
      desk.keepProperty(message.property, message.facts);
      return;
    case 'firm':
      desk.keepFirm(message.facts);
      return;
    case 'drain':
      post({ number: message.number, json: '' });
      return;
    case 'question': {
      const { number, question, firm } = message;
      try {
        post({ number, json: desk.answer(question, firm) });
      } catch (error) {
        post({ number, why: String(error) });
      }
    }
  }
});
