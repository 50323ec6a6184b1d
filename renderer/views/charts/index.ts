export { TravelChart } from './chart';
export type { HandBand, HandProof } from './types';
