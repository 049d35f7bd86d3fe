import { useQuery } from '@tanstack/react-query';

interface Props {
  readonly text: string;
  readonly label: string;
}

/** Light modules that must surround a code (ISO/IEC 18004). */
const QUIET = 4;

/** A QR code of a text, dark on light in every theme, as cameras read it. The encoder comes when the first one is drawn. */
export function CodePicture({ text, label }: Props) {
  const code = useQuery({ queryKey: ['qr code', text], queryFn: () => drawCode(text), gcTime: 0 });
  if (code.data === undefined) return null;
  const side = code.data.size + 2 * QUIET;
  return (
    <svg
      className="code-picture"
      viewBox={`${-QUIET} ${-QUIET} ${side} ${side}`}
      role="img"
      aria-label={label}
    >
      <rect x={-QUIET} y={-QUIET} width={side} height={side} fill="#fff" />
      <path d={code.data.path} fill="#000" shapeRendering="crispEdges" />
    </svg>
  );
}

async function drawCode(text: string): Promise<{ readonly size: number; readonly path: string }> {
  const { default: bwipjs } = await import('bwip-js/browser');
  const [symbol] = bwipjs.raw('qrcode', text, 'eclevel=M');
  if (symbol === undefined || !('pixs' in symbol)) throw new Error('the encoder gave no modules');
  const { pixs, pixx } = symbol;
  const dark = [...pixs].flatMap((pix, at) =>
    pix === 1 ? [`M${at % pixx} ${Math.floor(at / pixx)}h1v1h-1z`] : [],
  );
  return { size: pixx, path: dark.join('') };
}
