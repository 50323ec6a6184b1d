// What is typed of a strut one already has: it outlives the stage being left, for the readings are hard to take again.
import { useStore } from 'zustand';
import { createStore } from 'zustand/vanilla';
import type { StrutReading } from '../../core/weigh';

export type OwnRow = { readonly [K in keyof StrutReading]: StrutReading[K] | null } & { readonly way: 'in' | 'out' };
export type OwnSizes = Partial<Record<'extendedMm' | 'strokeMm' | 'rodMm' | 'tubeMm' | 'labelN', number>>;

/** How far a bathroom scale is usually off, N. Common practice, no source. */
const SCALE_N = 10;
const ownRow = (way: OwnRow['way']): OwnRow => ({ way, lengthMm: null, forceN: null, plusMinusN: SCALE_N });

interface Own {
  readonly name: string;
  readonly sizes: OwnSizes;
  readonly tempC: number;
  readonly rows: readonly OwnRow[];
}

const own = createStore<Own>(() => ({
  name: 'My strut',
  sizes: {},
  tempC: 20,
  rows: (['in', 'out', 'in', 'out'] as const).map(ownRow),
}));

export const useOwn = (): Own => useStore(own);
export const setOwn = (patch: Partial<Pick<Own, 'name' | 'tempC'>>): void => own.setState(patch);
export const setOwnSize = (key: keyof OwnSizes, value: number | null): void =>
  own.setState(({ sizes: { [key]: _, ...others } }) => ({
    sizes: value === null ? others : { ...others, [key]: value },
  }));
export const setOwnRow = (i: number, patch: Partial<OwnRow>): void =>
  own.setState(({ rows }) => ({ rows: rows.map((r, k) => (k === i ? { ...r, ...patch } : r)) }));
export const addOwnRow = (): void =>
  own.setState(({ rows }) => ({ rows: [...rows, ownRow(rows.length % 2 === 0 ? 'in' : 'out')] }));
