export * from './gas';
