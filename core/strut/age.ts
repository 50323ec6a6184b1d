import { ATMOSPHERE_MPA, type GasBody } from './gas';

/**
 * The same body after it has lost `lossPercent` of its gauge pressure: what an aged strut has left. As with the
 * tolerance only the charge changes, never the gas volume; friction stays. 0 % gives the body itself.
 */
export const agedBody = (body: GasBody, lossPercent: number): GasBody =>
  lossPercent === 0
    ? body
    : { ...body, ratedMPa: ATMOSPHERE_MPA + (body.ratedMPa - ATMOSPHERE_MPA) * (1 - lossPercent / 100) };
