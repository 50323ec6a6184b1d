export * from './edits';
export * from './obstacles';
export * from './smallest';
