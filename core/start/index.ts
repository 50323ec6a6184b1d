export * from './lid';
export * from './trace';
