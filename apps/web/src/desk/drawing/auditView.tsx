import {
  type Audit,
  type Change,
  COMPASS_SIDES,
  type CompassSide,
  moveCorner,
  nearestStructure,
  takeOverStations,
} from '@sillwatch/ring';
import { newId } from '../../shared/device.ts';
import { useDiagramWords } from '../../shared/siteDiagram.tsx';
import { useWords } from '../../words/index.ts';
import { lengthText, nameOfId } from './model/names.ts';
import type { Reckoned } from './ringPanel.tsx';
import { UnguardedList } from './unguardedList.tsx';
import type { Editor } from './useEditor.ts';

interface Props {
  readonly editor: Editor;
  readonly audit: Audit;
  readonly onReckon: (reckoned: Reckoned | null) => void;
}

/** What the ring on the drawing leaves open, station by station, and the fewest changes that mend it. */
export function AuditView({ editor, audit, onReckon }: Props) {
  const w = useWords();
  const words = w.desk.drawing;
  const d = useDiagramWords();
  const { site, unit } = editor;
  const remarks = audit.stations.flatMap(({ stationId, setback, wallMetres, concernId, isRedundant }) => {
    const said = [
      ...(setback === 'in_band' ? [] : [words.setbacks[setback](lengthText(wallMetres, unit))]),
      ...(concernId === undefined ? [] : [words.beside(nameOfId(site, concernId, w, d))]),
      ...(isRedundant ? [words.redundant] : []),
    ];
    return said.length === 0 ? [] : [{ stationId, said: said.join(', ') }];
  });
  const isSound =
    remarks.length === 0 && audit.unguarded.length === 0 && audit.concernsWithoutStation.length === 0;
  const make = (change: Change) => {
    if (change.kind === 'add')
      editor.run(takeOverStations(site, [{ id: newId(), at: change.at }], editor.numbered));
    else editor.run(moveCorner(site, { id: change.stationId, ring: 0, index: 0 }, change.to));
  };
  return (
    <section className="sheet" aria-labelledby="draw-audit">
      <div className="sheet-head">
        <h2 id="draw-audit" className="draw-h">
          {words.audit}
        </h2>
        <button type="button" className="button" onClick={() => onReckon(null)}>
          {words.putAside}
        </button>
      </div>
      <p role="status">
        {isSound
          ? words.auditSound
          : `${words.auditSays(audit.stations.length)} ${
              audit.unguarded.length === 0
                ? words.allGuarded
                : words.leftUnguarded(lengthText(audit.unguardedMetres, unit))
            }`}
      </p>
      {remarks.length > 0 && (
        <ul className="draw-said-list">
          {remarks.map(({ stationId, said }) => (
            <li key={stationId}>
              <strong>{nameOfId(site, stationId, w, d)}</strong>: {said}
            </li>
          ))}
        </ul>
      )}
      <UnguardedList editor={editor} unguarded={audit.unguarded} />
      {audit.concernsWithoutStation.map((id) => (
        <p key={id}>{words.concernAlone(nameOfId(site, id, w, d))}</p>
      ))}
      {audit.changes.length > 0 && (
        <>
          <h3>{words.changes}</h3>
          <ul className="draw-changes">
            {audit.changes.map((change) => (
              <li key={JSON.stringify(change)} className="draw-change">
                <span>
                  <ChangeWords editor={editor} change={change} />
                </span>
                <button type="button" className="button" onClick={() => make(change)}>
                  {words.takeChange}
                </button>
              </li>
            ))}
          </ul>
          <p className="quiet small">{words.movedNote}</p>
        </>
      )}
    </section>
  );
}

function ChangeWords({ editor, change }: { readonly editor: Editor; readonly change: Change }) {
  const w = useWords();
  const words = w.desk.drawing;
  const { site, unit } = editor;
  if (change.kind === 'add')
    return words.changeAdd(nearestStructure(site, change.at)?.name || words.structure);
  const { from, to, stationId } = change;
  const number = site.stations.find(({ id }) => id === stationId)?.number ?? 0;
  const far = Math.hypot(to.x - from.x, to.y - from.y);
  const side = words.sides[sideOf(to.x - from.x, to.y - from.y)];
  return words.changeMove(number, lengthText(far, unit), side);
}

/** Counter-clockwise from east, an eighth of a turn each. */
function sideOf(east: number, north: number): CompassSide {
  const eighths = Math.round((Math.atan2(north, east) * 4) / Math.PI);
  return COMPASS_SIDES[(eighths + 8) % 8] ?? 'east';
}
