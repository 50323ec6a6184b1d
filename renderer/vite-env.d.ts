/// <reference types="vite/client" />

/** Version and commit, put in by the build. */
declare const EDITION: string;
