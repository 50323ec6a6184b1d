export * from './beaufort';
export * from './constants';
export { isFreeName, namesIn, LONGEST_EXPRESSION } from './customs';
export * from './units';
export * from './expression';
export * from './scale';
