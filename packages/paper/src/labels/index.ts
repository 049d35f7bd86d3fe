export { type LabelPaper, renderLabels } from './labelPdf.ts';
export {
  findStockFault,
  LABEL_STOCK_NAMES,
  LABEL_STOCKS,
  type LabelRoll,
  type LabelSheet,
  type LabelStock,
  type LabelStockName,
} from './stock.ts';
export {
  labelsOfProperty,
  newTags,
  type PropertyLabels,
  readStationNumbers,
  type TagLabel,
} from './tagLabels.ts';
