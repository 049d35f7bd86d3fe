import {
  type Audit,
  auditRing,
  checkSite,
  type Proposal,
  proposeStations,
  type RingRules,
  type Site,
} from '@sillwatch/ring';
import { ringRulesOf } from '@sillwatch/rounds';
import type { LabelProfile } from '@sillwatch/trade';
import { useEffect, useState } from 'react';
import { useHeldFocus } from '../../shared/heldFocus.ts';
import { Notice } from '../../shared/notice.tsx';
import { useWords } from '../../words/index.ts';
import { AuditView } from './auditView.tsx';
import { labelLengthText } from './model/names.ts';
import { ProposalView } from './proposalView.tsx';
import type { Editor } from './useEditor.ts';

/** What was reckoned, and of which drawing: of another it says nothing. */
export type Reckoned =
  | {
      readonly kind: 'proposal';
      readonly site: Site;
      readonly proposal: Proposal;
      readonly chosen: ReadonlySet<number>;
    }
  | { readonly kind: 'audit'; readonly site: Site; readonly audit: Audit };

interface Props {
  readonly editor: Editor;
  /** Stations in the ground without a place: nothing is reckoned with them. */
  readonly unplaced: number;
  readonly profile: LabelProfile | undefined;
  readonly reckoned: Reckoned | null;
  readonly onReckon: (reckoned: Reckoned | null) => void;
}

/** Where stations would go, and what the ones on the drawing leave open: reckoned here, on the drawing as it stands. */
export function RingPanel({ editor, unplaced, profile, reckoned, onReckon }: Props) {
  const w = useWords();
  const words = w.desk.drawing;
  const [took, setTook] = useState(0);
  const head = useHeldFocus<HTMLHeadingElement>(reckoned);
  const { site, unit } = editor;
  const isSound = checkSite(site).length === 0;
  // The drawing went on: what was reckoned of it before is put aside.
  const isStale = reckoned !== null && reckoned.site !== site;
  useEffect(() => {
    if (isStale) onReckon(null);
  }, [isStale, onReckon]);
  if (profile === undefined)
    return (
      <section className="sheet">
        <Notice title={words.noProfile} tone="open" />
      </section>
    );
  const rules = ringRulesOf(profile);
  const reckon = (kind: Reckoned['kind']) => {
    setTook(0);
    onReckon(kind === 'proposal' ? proposalOf(site, rules) : { kind, site, audit: auditRing(site, rules) });
  };
  return (
    <>
      <section className="sheet" aria-labelledby="draw-ring">
        <h2 id="draw-ring" className="draw-h" ref={head} tabIndex={-1}>
          {words.modes.ring}
        </h2>
        <p className="quiet small">
          {words.by(profile.name)}{' '}
          {words.byNumbers(
            labelLengthText(rules.greatestSpacingMetres, unit),
            labelLengthText(rules.setbackMetres.nearest, unit),
            labelLengthText(rules.setbackMetres.farthest, unit),
          )}
        </p>
        {profile.invented && <p className="demo">{w.app.inventedProfile}</p>}
        <Notice title={words.utilities} tone="open" />
        {unplaced > 0 && <Notice title={words.unplacedCount(unplaced)} tone="open" />}
        {!isSound && <Notice title={words.mendFirst} tone="late" />}
        <div className="buttons">
          <button
            type="button"
            className="button button-main"
            disabled={!isSound}
            onClick={() => reckon('proposal')}
          >
            {words.propose}
          </button>
          <button type="button" className="button" disabled={!isSound} onClick={() => reckon('audit')}>
            {words.audit}
          </button>
        </div>
        <p role="status">{took > 0 ? words.tookOver(took) : ''}</p>
      </section>
      {reckoned?.kind === 'proposal' && !isStale && (
        <ProposalView editor={editor} reckoned={reckoned} onReckon={onReckon} onTook={setTook} />
      )}
      {reckoned?.kind === 'audit' && !isStale && (
        <AuditView editor={editor} audit={reckoned.audit} onReckon={onReckon} />
      )}
    </>
  );
}

/** All are chosen where nothing stands; where something does, none is until somebody chooses it. */
function proposalOf(site: Site, rules: RingRules): Reckoned {
  const proposal = proposeStations(site, rules);
  const chosen = site.stations.length === 0 ? proposal.stations.map(({ number }) => number) : [];
  return { kind: 'proposal', site, proposal, chosen: new Set(chosen) };
}
