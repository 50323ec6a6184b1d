// A machine that decides whether work lands draws the same cases every time; at a desk every run draws new ones.
import fc from 'fast-check';

if (process.env['CI']) fc.configureGlobal({ seed: 20_261_125 });
