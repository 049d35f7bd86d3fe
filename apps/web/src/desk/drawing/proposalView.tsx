import { type LengthUnit, type Proposal, type ProposedStation, takeOverStations } from '@sillwatch/ring';
import { newId } from '../../shared/device.ts';
import { Notice } from '../../shared/notice.tsx';
import { useDiagramWords } from '../../shared/siteDiagram.tsx';
import { useWords } from '../../words/index.ts';
import { lengthText, nameOfId } from './model/names.ts';
import type { Reckoned } from './ringPanel.tsx';
import { UnguardedList } from './unguardedList.tsx';
import type { Editor } from './useEditor.ts';

interface Props {
  readonly editor: Editor;
  readonly reckoned: Extract<Reckoned, { readonly kind: 'proposal' }>;
  readonly onReckon: (reckoned: Reckoned | null) => void;
  readonly onTook: (count: number) => void;
}

/** The proposed stations, each with its distances and what it is for; those that are chosen go onto the drawing. */
export function ProposalView({ editor, reckoned, onReckon, onTook }: Props) {
  const w = useWords();
  const words = w.desk.drawing;
  const d = useDiagramWords();
  const { proposal, chosen, site } = reckoned;
  const { unit } = editor;
  const setback = sameSetback(proposal, unit);
  const choose = (numbers: Iterable<number>) => onReckon({ ...reckoned, chosen: new Set(numbers) });
  const takeOver = () => {
    const places = proposal.stations
      .filter(({ number }) => chosen.has(number))
      .map(({ at }) => ({ id: newId(), at }));
    if (editor.run(takeOverStations(site, places, editor.numbered))) onTook(places.length);
  };
  return (
    <section className="sheet" aria-labelledby="draw-proposal">
      <h2 id="draw-proposal" className="draw-h">
        {words.proposal}
      </h2>
      <p>
        {words.proposalSays(proposal.stations.length, lengthText(proposal.wallMetres, unit))}{' '}
        {proposal.unguardedMetres < 0.005
          ? words.allGuarded
          : words.leftUnguarded(lengthText(proposal.unguardedMetres, unit))}
      </p>
      {site.stations.length > 0 && <Notice title={words.standsAlready} />}
      <div className="buttons">
        <button type="button" className="button button-main" disabled={chosen.size === 0} onClick={takeOver}>
          {words.takeOver(chosen.size)}
        </button>
        <button
          type="button"
          className="button"
          disabled={chosen.size === proposal.stations.length}
          onClick={() => choose(proposal.stations.map(({ number }) => number))}
        >
          {words.takeAll}
        </button>
        <button type="button" className="button" disabled={chosen.size === 0} onClick={() => choose([])}>
          {words.takeNone}
        </button>
        <button type="button" className="button" onClick={() => onReckon(null)}>
          {words.putAside}
        </button>
      </div>
      <UnguardedList editor={editor} unguarded={proposal.unguarded} />
      {proposal.concernsOutOfReach.map(({ concernId }) => (
        <p key={concernId}>{words.out(nameOfId(site, concernId, w, d))}</p>
      ))}
      <p className="quiet small">
        {[...(setback === undefined ? [] : [words.allProposedAt(setback)]), words.forRing].join(' ')}
      </p>
      <ul className="draw-proposed">
        {proposal.stations.map((station) => {
          const { number, setbackMetres, reason } = station;
          const gap = gapAfter(proposal, station);
          return (
            <li key={number}>
              <label className="draw-check">
                <input
                  type="checkbox"
                  checked={chosen.has(number)}
                  onChange={({ target }) =>
                    choose(target.checked ? [...chosen, number] : [...chosen].filter((one) => one !== number))
                  }
                />
                <span>
                  <strong>{w.format.number(number)}</strong>{' '}
                  {[
                    ...(gap === undefined ? [] : [words.gapToNext(lengthText(gap, unit))]),
                    ...(setback === undefined ? [words.proposedAt(lengthText(setbackMetres, unit))] : []),
                    ...(reason.kind === 'concern'
                      ? [words.forConcern(nameOfId(site, reason.concernId, w, d))]
                      : []),
                  ].join(', ')}
                </span>
              </label>
            </li>
          );
        })}
      </ul>
    </section>
  );
}

/** What all of them have alike is said once; undefined where they differ. */
function sameSetback({ stations }: Proposal, unit: LengthUnit): string | undefined {
  const [one, other] = new Set(stations.map(({ setbackMetres }) => lengthText(setbackMetres, unit)));
  return other === undefined ? one : undefined;
}

/** Along its line to the next station of the ring; undefined for one that stands alone. */
function gapAfter({ stations, lines }: Proposal, station: ProposedStation): number | undefined {
  const { line, alongMetres, reason } = station;
  const length = line === undefined ? undefined : lines[line]?.lengthMetres;
  if (length === undefined || reason.kind !== 'ring') return undefined;
  const gaps = stations
    .filter((other) => other.line === line && other.number !== station.number && other.reason.kind === 'ring')
    .map((other) => (((other.alongMetres - alongMetres) % length) + length) % length);
  return gaps.length === 0 ? undefined : Math.min(...gaps);
}
