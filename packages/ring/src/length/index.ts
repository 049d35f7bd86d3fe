export { formatLength, type LengthFormat, type LengthStyle } from './formatLength.ts';
export {
  getLength,
  type LengthFault,
  type LengthResult,
  type LengthUnit,
  parseLength,
} from './parseLength.ts';
