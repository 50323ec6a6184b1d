export * from './lid';
export { addAnotherStrut } from './strut';
export * from './trace';
export * from './marks-file';
