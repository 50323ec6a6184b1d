export * from './units';
export * from './expression';
