import {
  CONCERNS,
  FOUNDATIONS,
  HARD_SURFACES,
  nearestStructure,
  PLANTINGS,
  type Thing,
} from '@sillwatch/ring';
import { metres } from '@sillwatch/trade/units';
import { useState } from 'react';
import { Field } from '../../shared/field.tsx';
import { Select } from '../../shared/select.tsx';
import { useDiagramWords } from '../../shared/siteDiagram.tsx';
import { useWords } from '../../words/index.ts';
import { LengthField } from './lengthField.tsx';
import { brushName } from './model/names.ts';
import type { Editor } from './useEditor.ts';

interface Props {
  readonly editor: Editor;
  readonly thing: Thing;
  readonly onChange: (next: Thing) => void;
}

/** What is written of a thing beside its corners. */
export function DescribeFields({ editor, thing, onChange }: Props) {
  const w = useWords();
  const words = w.desk.drawing;
  const d = useDiagramWords();
  const { unit } = editor;
  switch (thing.layer) {
    case 'structures': {
      const { value } = thing;
      return (
        <>
          <TextField
            label={words.name}
            value={value.name}
            onCommit={(name) => (name === '' ? undefined : onChange({ ...thing, value: { ...value, name } }))}
          />
          <Select
            label={words.foundation}
            value={value.foundation}
            options={FOUNDATIONS.map((one) => [one, d.foundations[one]] as const)}
            onPick={(picked) => {
              const foundation = FOUNDATIONS.find((one) => one === picked);
              if (foundation !== undefined) onChange({ ...thing, value: { ...value, foundation } });
            }}
          />
        </>
      );
    }
    case 'hardSurfaces':
      return (
        <Select
          label={words.kind}
          value={thing.value.kind}
          options={HARD_SURFACES.map((one) => [one, brushName(one, w, d)] as const)}
          onPick={(picked) => {
            const kind = HARD_SURFACES.find((one) => one === picked);
            if (kind !== undefined) onChange({ ...thing, value: { ...thing.value, kind } });
          }}
        />
      );
    case 'plantings':
      return (
        <Select
          label={words.kind}
          value={thing.value.kind}
          options={PLANTINGS.map((one) => [one, brushName(one, w, d)] as const)}
          onPick={(picked) => {
            const kind = PLANTINGS.find((one) => one === picked);
            if (kind !== undefined) onChange({ ...thing, value: { ...thing.value, kind } });
          }}
        />
      );
    case 'concerns':
      return (
        <>
          <Select
            label={words.kind}
            value={thing.value.kind}
            options={CONCERNS.map((one) => [one, brushName(one, w, d)] as const)}
            onPick={(picked) => {
              const kind = CONCERNS.find((one) => one === picked);
              if (kind !== undefined) onChange({ ...thing, value: { ...thing.value, kind } });
            }}
          />
          <TextField
            label={words.note}
            value={thing.value.note ?? ''}
            onCommit={(note) => {
              const { note: _, ...rest } = thing.value;
              onChange({ ...thing, value: note === '' ? rest : { ...rest, note } });
            }}
          />
        </>
      );
    case 'gates':
      return (
        <LengthField
          label={words.width}
          value={thing.value.widthMetres}
          unit={unit}
          onCommit={(width) => onChange({ ...thing, value: { ...thing.value, widthMetres: metres(width) } })}
        />
      );
    case 'keepOuts': {
      const { value } = thing;
      if (value.kind === 'treated_soil') return null;
      return (
        <LengthField
          label={words.clearance}
          value={value.clearanceMetres}
          unit={unit}
          onCommit={(clearance) =>
            onChange({ ...thing, value: { ...value, clearanceMetres: metres(clearance) } })
          }
        />
      );
    }
    case 'stations':
      return <StationFields editor={editor} thing={thing} onChange={onChange} />;
    case 'fences':
    case 'parking':
      return null;
  }
}

interface StationProps {
  readonly editor: Editor;
  readonly thing: Extract<Thing, { readonly layer: 'stations' }>;
  readonly onChange: (next: Thing) => void;
}

/** The number and structure of a station that is not in the ground yet; of one that is, both are history. */
function StationFields({ editor, thing, onChange }: StationProps) {
  const w = useWords();
  const words = w.desk.drawing;
  const { value } = thing;
  const [fault, setFault] = useState<string>();
  const { site, draft } = editor;
  const isStored = draft.base.stations.some(({ id }) => id === value.id);
  if (isStored) return null;
  const structureId = value.structureId ?? nearestStructure(site, value.at)?.id ?? '';
  return (
    <>
      <TextField
        label={words.stationNumber}
        value={String(value.number)}
        error={fault}
        onCommit={(text) => {
          const number = Number(text);
          const isTaken =
            editor.numbers.get(structureId)?.has(number) === true ||
            site.stations.some(
              (other) =>
                other.id !== value.id && other.structureId === structureId && other.number === number,
            );
          const isWrong = !Number.isInteger(number) || number < 1 || isTaken;
          setFault(isWrong ? words.numberTaken : undefined);
          if (!isWrong) onChange({ ...thing, value: { ...value, number } });
        }}
      />
      {site.structures.length > 1 && (
        <Select
          label={words.ofStructure}
          value={structureId}
          options={site.structures.map(({ id, name }) => [id, name || words.structure] as const)}
          onPick={(picked) => onChange({ ...thing, value: { ...value, structureId: picked } })}
        />
      )}
    </>
  );
}

interface TextProps {
  readonly label: string;
  readonly value: string;
  readonly error?: string | undefined;
  readonly onCommit: (text: string) => void;
}

/** A line of words, taken over with Enter or when one leaves it. */
function TextField({ label, value, error, onCommit }: TextProps) {
  const [typed, setTyped] = useState<{ readonly text: string; readonly over: string } | null>(null);
  const text = typed !== null && typed.over === value ? typed.text : value;
  const commit = () => {
    if (text !== value) onCommit(text.trim());
  };
  return (
    <Field
      label={label}
      value={text}
      error={error}
      autoComplete="off"
      onChange={(event) => setTyped({ text: event.target.value, over: value })}
      onBlur={commit}
      onKeyDown={(event) => {
        if (event.key === 'Escape' && text !== value) {
          // Only what was typed is let go, not what is selected.
          event.stopPropagation();
          setTyped(null);
        }
        if (event.key !== 'Enter') return;
        event.preventDefault();
        commit();
      }}
    />
  );
}
