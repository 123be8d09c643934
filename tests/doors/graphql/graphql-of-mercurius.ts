import { createRequire } from 'node:module';
import type * as Graphql from 'graphql';

/**
 * graphql-js as Mercurius and Pothos have it: the test runner would read the copy that is meant for bundlers, whose
 * classes are others.
 */
export const graphql = createRequire(import.meta.url)('graphql') as typeof Graphql;
