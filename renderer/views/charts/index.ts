export { TravelChart } from './chart';
export type { HandBand } from './types';
