import { addCourtyard, drawThing, type Point, type Thing, takeOverStations } from '@sillwatch/ring';
import { useState } from 'react';
import { newId } from '../../shared/device.ts';
import { useWords } from '../../words/index.ts';
import { shapeOf, thingDrawn } from './model/brush.ts';
import { wholeOf } from './model/selection.ts';
import type { Editor } from './useEditor.ts';

/** What becomes of corners that were drawn with the brush in hand: a thing on the drawing, or a courtyard of the selected one. */
export function useDrawn(editor: Editor) {
  const w = useWords();
  const words = w.desk.drawing;
  const [clearance, setClearance] = useState<number | null>(null);
  const { brush, selection, draft } = editor;
  const site = draft.sites.at(-1) ?? draft.base;
  const onDrawn = (points: readonly Point[]) => {
    if (brush === null) return;
    if (brush === 'courtyard') {
      const id = selection?.id ?? '';
      if (editor.run(addCourtyard(site, id, points), wholeOf(id))) editor.chooseBrush(null);
      return;
    }
    const [at] = points;
    if (editor.placing !== null && at !== undefined) {
      const station: Thing = { layer: 'stations', value: { ...editor.placing, at } };
      if (editor.run(drawThing(site, station), wholeOf(editor.placing.id))) editor.chooseBrush(null);
      return;
    }
    if (brush === 'station' && at !== undefined) {
      const id = newId();
      editor.run(takeOverStations(site, [{ id, at }], editor.numbered), wholeOf(id));
      return;
    }
    const others = site.structures.length;
    const said = {
      id: newId(),
      name: others === 0 ? words.firstStructureName : words.numbered(words.structureName, others + 1),
      clearanceMetres: clearance,
    };
    const thing = thingDrawn(brush, said, points);
    if (thing === undefined) return;
    if (!editor.run(drawThing(site, thing), wholeOf(thing.value.id))) return;
    // Places come in rows (a concern here, one there); an outline is drawn once.
    if (shapeOf(brush) !== 'place' || brush === 'parking') editor.chooseBrush(null);
  };
  return { clearance, setClearance, onDrawn };
}
