export * from './underlay';
export * from './picture-size';
