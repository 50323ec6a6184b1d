export * from './units';
export * from './expression';
export * from './scale';
