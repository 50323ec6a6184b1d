export type { Encoding } from './letters';
export * from './table';
