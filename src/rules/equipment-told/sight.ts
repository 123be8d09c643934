/** What a reader may be told of: a unit goes from event to event, and not everybody follows each of them. */
export interface Sight {
  readonly sees: (event: string | null | undefined) => boolean;
}

/** Of whoever may read all of the firm. */
export const SEES_ALL: Sight = { sees: () => true };

export const OUT_OF_SIGHT = 'Left out: they lie in events that you do not follow';
