import type { Point } from '@sillwatch/ring';
import { useState } from 'react';
import { useWords } from '../../words/index.ts';
import { LengthField } from './lengthField.tsx';
import type { Editor } from './useEditor.ts';

interface FormProps {
  readonly editor: Editor;
  readonly label: string;
  readonly onPlace: (at: Point) => void;
}

/** A place by its numbers: east and north of the origin. */
export function PlaceForm({ editor, label, onPlace }: FormProps) {
  const w = useWords();
  const words = w.desk.drawing;
  const [east, setEast] = useState<number | null>(null);
  const [north, setNorth] = useState<number | null>(null);
  return (
    <div className="draw-pair">
      <LengthField label={words.east} value={east} unit={editor.unit} onCommit={setEast} />
      <LengthField label={words.north} value={north} unit={editor.unit} onCommit={setNorth} />
      <button
        type="button"
        className="button"
        disabled={east === null || north === null}
        onClick={() => {
          if (east === null || north === null) return;
          onPlace({ x: east, y: north });
          setEast(null);
          setNorth(null);
        }}
      >
        {label}
      </button>
    </div>
  );
}
