export { TravelChart } from './chart';
export type { ChartKind, ChartOptions, ChartState } from './types';
