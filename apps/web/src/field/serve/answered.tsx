import type { StationState } from '@sillwatch/trade';
import { baitOptions, firstAnswers } from '../../desk/station/answers.ts';
import { useWords } from '../../words/index.ts';
import type { Entry } from './entry.ts';

interface Props {
  readonly state: StationState;
  readonly entry: Entry;
  readonly onChange: (entry: Entry) => void;
}

/** What has been answered so far, in few words; a tap asks the question again. */
export function Answered({ state, entry, onChange }: Props) {
  const w = useWords();
  const { answers } = entry;
  const fresh = { left: [], parts: null };
  const chips: { readonly words: string; readonly again: Partial<Entry> }[] = [];
  if (answers.reach !== 'opened') {
    if (answers.why.trim() !== '')
      chips.push({
        words: `${w.reaches[answers.reach]}: ${answers.why}`,
        again: { answers: { ...answers, why: '' } },
      });
  } else {
    if (answers.termites !== null)
      chips.push({
        words: w.field.station.termiteChoice[answers.termites],
        again: { answers: { ...answers, termites: null } },
      });
    if (answers.termites !== null && answers.baitLeft !== null && baitOptions(state).length > 0)
      chips.push({
        words: `${w.now.baitLeft}: ${w.baitLeft[answers.baitLeft]}`,
        again: { answers: { ...answers, baitLeft: null } },
      });
    if (answers.termites !== null && entry.isRestAnswered)
      chips.push({ words: restWords(state, entry, w), again: { isRestAnswered: false, isRestOpen: false } });
  }
  if (chips.length === 0) return null;
  return (
    <ul className="answered" aria-label={w.field.station.answered}>
      {chips.map(({ words, again }) => (
        <li key={words}>
          <button
            type="button"
            className="answered-chip"
            aria-label={w.field.station.change(words)}
            onClick={() => onChange({ ...entry, ...fresh, ...again })}
          >
            {words}
          </button>
        </li>
      ))}
    </ul>
  );
}

function restWords(state: StationState, { answers }: Entry, w: ReturnType<typeof useWords>): string {
  const said = [
    ...(answers.monitor === firstAnswers(state).monitor
      ? []
      : [`${w.now.monitor}: ${w.monitors[answers.monitor]}`]),
    ...(answers.housing === 'sound' ? [] : [w.housings[answers.housing]]),
    ...(answers.occupants === 'none' ? [] : [w.occupants[answers.occupants]]),
  ];
  return said.length === 0 ? w.field.station.restSound : said.join(', ');
}
