export * from './pose';
export * from './plan';
export * from './kinematics';
export * from './sweep';
export * from './rest';
export * from './posed';
