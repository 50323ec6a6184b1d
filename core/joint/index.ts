export * from './stem';
