import type { StationModel } from '@sillwatch/trade';
import { useWords } from '../../words/index.ts';
import type { Entry, Verdict } from './entry.ts';

interface Props {
  readonly verdict: Verdict;
  readonly entry: Entry;
  readonly model: StationModel;
  readonly onChange: (entry: Entry) => void;
  readonly partName: (part: string) => string;
}

/** Parts as the steps count them; by hand where one broke or two were needed. */
export function PartsCount({ verdict: { followed }, entry, model, onChange, partName }: Props) {
  const w = useWords();
  const counts = entry.parts ?? followed.partsUsed;
  const ofModel = Object.values(model.parts).filter((part) => part !== null);
  const listed = [...new Set([...Object.keys(followed.partsUsed), ...Object.keys(counts)])];
  const others = ofModel.filter((part) => !listed.includes(part));
  const set = (part: string, count: number) =>
    onChange({ ...entry, parts: { ...counts, [part]: Math.max(0, Math.min(99, count)) } });
  return (
    <div className="parts">
      <h3>{w.field.station.partsUsed}</h3>
      {listed.length === 0 && <p className="quiet">{w.field.station.noParts}</p>}
      {listed.map((part) => {
        const name = partName(part);
        const count = counts[part] ?? 0;
        return (
          <div key={part} className="part">
            <span>{name}</span>
            <button
              type="button"
              className="button part-step"
              aria-label={w.field.station.fewer(name)}
              disabled={count === 0}
              onClick={() => set(part, count - 1)}
            >
              −
            </button>
            <output>{w.format.number(count)}</output>
            <button
              type="button"
              className="button part-step"
              aria-label={w.field.station.more(name)}
              onClick={() => set(part, count + 1)}
            >
              +
            </button>
          </div>
        );
      })}
      {others.length > 0 && (
        <details className="rest">
          <summary>{w.field.station.addPart}</summary>
          <div className="ask-answers ask-chips">
            {others.map((part) => (
              <button key={part} type="button" className="button" onClick={() => set(part, 1)}>
                {partName(part)}
              </button>
            ))}
          </div>
        </details>
      )}
    </div>
  );
}
