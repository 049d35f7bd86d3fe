export { type BundleEntry, type BundleInput, type BundleProof, inspectorBundle } from './bundle.ts';
export { entriesOfRecord } from './bundleEntries.ts';
