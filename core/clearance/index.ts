export * from './edits';
export * from './obstacles';
export * from './smallest';
export * from './obstacle-edges';
export * from './lid-room';
export * from './surfaces';
