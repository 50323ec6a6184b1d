export * from './angle';
export * from './vec3';
export * from './rotation';
export * from './polygon';
export * from './vec2';
