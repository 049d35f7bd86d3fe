import { type PointerEvent, useEffect, useRef } from 'react';
import { useWords } from '../../words/index.ts';

interface Props {
  /** Called with the picture after each stroke; undefined = cleared. */
  readonly onChange: (picture: (() => Promise<Blob | null>) | undefined) => void;
}

/** A field to sign in with finger or pen. Drawn dark on white whatever the theme: it goes on paper. */
export function Signature({ onChange }: Props) {
  const w = useWords();
  const canvas = useRef<HTMLCanvasElement>(null);
  const isDown = useRef(false);
  useEffect(() => {
    const element = canvas.current;
    if (element === null) return;
    element.width = Math.round(element.clientWidth * devicePixelRatio);
    element.height = Math.round(element.clientHeight * devicePixelRatio);
    wipe(element);
  }, []);
  const at = (event: PointerEvent<HTMLCanvasElement>) => {
    const box = event.currentTarget.getBoundingClientRect();
    return [
      ((event.clientX - box.left) / box.width) * event.currentTarget.width,
      ((event.clientY - box.top) / box.height) * event.currentTarget.height,
    ] as const;
  };
  const begin = (event: PointerEvent<HTMLCanvasElement>) => {
    const pen = event.currentTarget.getContext('2d');
    if (pen === null) return;
    event.currentTarget.setPointerCapture(event.pointerId);
    isDown.current = true;
    pen.lineWidth = 2.5 * devicePixelRatio;
    pen.lineCap = 'round';
    pen.lineJoin = 'round';
    pen.strokeStyle = 'black';
    pen.beginPath();
    pen.moveTo(...at(event));
  };
  const draw = (event: PointerEvent<HTMLCanvasElement>) => {
    if (!isDown.current) return;
    const pen = event.currentTarget.getContext('2d');
    pen?.lineTo(...at(event));
    pen?.stroke();
  };
  const end = () => {
    if (!isDown.current) return;
    isDown.current = false;
    const element = canvas.current;
    if (element !== null) onChange(() => new Promise((resolve) => element.toBlob(resolve, 'image/png')));
  };
  return (
    <div className="signature">
      <canvas
        ref={canvas}
        role="img"
        aria-label={w.field.leave.signHere}
        onPointerDown={begin}
        onPointerMove={draw}
        onPointerUp={end}
        onPointerCancel={end}
      />
      <button
        type="button"
        className="button"
        onClick={() => {
          if (canvas.current !== null) wipe(canvas.current);
          onChange(undefined);
        }}
      >
        {w.field.leave.signClear}
      </button>
    </div>
  );
}

function wipe(element: HTMLCanvasElement): void {
  const pen = element.getContext('2d');
  if (pen === null) return;
  pen.fillStyle = 'white';
  pen.fillRect(0, 0, element.width, element.height);
}
