export * from './convex';
export * from './mesh';
export * from './triangulate';
export * from './threemf';
export * from './stl';
export * from './distance';
export * from './solids';
export * from './visible-edges';
