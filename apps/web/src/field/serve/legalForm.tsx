import { useState } from 'react';
import { decimalOf } from '../../shared/decimal.ts';
import { isComplete, type Legal } from '../../shared/legal.ts';
import { LegalFields } from '../../shared/legalFields.tsx';
import { useWords } from '../../words/index.ts';

interface Props {
  readonly legal: Legal;
  readonly onChange: (legal: Legal) => void;
  /** True once recording was tried: what is missing is said. */
  readonly tried: boolean;
}

/** The use record of the bait: filled from profile and person, open where something is missing. */
export function LegalForm({ legal, onChange, tried }: Props) {
  const w = useWords();
  const grams = decimalOf(legal.grams);
  const [isWhole] = useState(() => isComplete(legal, w));
  return (
    <details className="sheet rest" open={!isWhole || (tried && !isComplete(legal, w))}>
      <summary>
        <span>{w.field.station.application}</span>{' '}
        <span className="quiet">
          {Number.isNaN(grams)
            ? legal.product
            : w.field.station.applicationComplete(w.property.grams(grams), legal.product)}
        </span>
      </summary>
      <p className="quiet">{w.field.station.applicationCheck}</p>
      <LegalFields legal={legal} tried={tried} onChange={onChange} />
    </details>
  );
}
