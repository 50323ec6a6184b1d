export * from './distance';
export * from './solids';
export * from './obstacles';
export * from './smallest';
