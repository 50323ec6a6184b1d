export * from './pose';
export * from './plan';
export * from './sweep';
export * from './rest';
