export * from './lid';
export { addAnotherStrut } from './strut';
export * from './trace';
export * from './marks-file';
export * from './sizes';
export * from './materials';
export * from './sizes-text';
export * from './figure';
