/**
 * The version of the shapes on the wire. Raised whenever a shape changes, with a line here that says what changed.
 *
 * 1  The first: push, pull, feeds and verify for the kinds of the main path.
 */
export const SCHEMA_VERSION = 1;
