import bwipjs from 'bwip-js';

/** A QR code as dark and light modules, row by row, without its quiet zone. */
export interface CodeModules {
  readonly size: number;
  isDark(column: number, row: number): boolean;
}

/** Light modules that must surround a code (ISO/IEC 18004, quiet zone of QR codes). */
export const QUIET_MODULES = 4;

/** A QR code (ISO/IEC 18004) of level Q: a quarter of it may be scratched or muddy. Throws a RangeError when the text is too long. */
export function qrCode(text: string): CodeModules {
  const [symbol] = encode(text);
  if (symbol === undefined || !('pixs' in symbol)) throw new Error('the encoder gave no modules');
  const { pixs, pixx, pixy } = symbol;
  if (pixx !== pixy) throw new Error(`a QR code is square, not ${pixx} by ${pixy}`);
  return { size: pixx, isDark: (column, row) => pixs[row * pixx + column] === 1 };
}

function encode(text: string) {
  try {
    return bwipjs.raw('qrcode', text, 'eclevel=Q');
  } catch (error) {
    throw new RangeError(`the tag cannot be written as a code: ${String(error)}`);
  }
}
