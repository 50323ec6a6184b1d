export * from './stem';
export * from './best-azimuth';
