export * from './lid';
export * from './trace';
export * from './marks-file';
