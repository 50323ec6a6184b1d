export * from './types';
export * from './sigma';
export { AS_BUILT, doubtsOf, type Doubt, type Known } from './doubts';
export { USUAL_TEMP_C, probeOf, proofCondition, readingsOf, sigmaOfReading } from './read-job';
export { fitUpPlan, probeKey, type PlanItem } from './plan';
export { dimensionOf, probeWords, strutWords, unitSign } from './words';
