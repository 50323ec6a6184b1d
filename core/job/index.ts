export * from './types';
export { type Num, type NumberField } from './number-field';
export { FORMAT, VERSION, jobSchema } from './schema';
export * from './resolve';
export * from './check';
export * from './read';
export * from './edits';
export * from './history';
export { jobJsonSchema } from './json-schema';
