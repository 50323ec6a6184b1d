export * from './pose';
export * from './plan';
export * from './kinematics';
export * from './sweep';
export * from './rest';
export { validRuns } from './moment';
export * from './let-go';
export * from './latch';
export * from './posed';
