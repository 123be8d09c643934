import { decimalText, millionths } from './millionths.ts';
import type { VisitBundle } from './visit-bundle.ts';

type WellFields = VisitBundle['well']['fields'];

/** What is needed of a well to place its depths below the measuring point. */
export interface WellDepths {
  readonly id: string;
  readonly fields: Pick<
    WellFields,
    'name' | 'standing' | 'depthsFrom' | 'stickUpFt' | 'totalDepthFt' | 'screenTopFt' | 'screenBottomFt'
  >;
}

export type DepthField = 'totalDepthFt' | 'screenTopFt' | 'screenBottomFt';

export type DepthBelowPoint =
  | { readonly known: true; readonly millionthsFt: number; readonly text: string }
  | { readonly known: false; readonly because: string };

/**
 * A recorded depth of a well, below the measuring point as every field measurement is. A depth below ground needs the
 * stick-up; where that is not recorded the depth stays unknown, for a guessed stick-up would be a guessed depth.
 */
export function depthBelowPoint(well: WellDepths, field: DepthField): DepthBelowPoint {
  const { name, depthsFrom, stickUpFt } = well.fields;
  const recorded = well.fields[field];
  if (recorded == null) return { known: false, because: `the depth of ${name} is not recorded` };
  if (depthsFrom === 'measuring-point')
    return { known: true, millionthsFt: millionths(recorded), text: `${recorded} ft` };
  if (stickUpFt == null)
    return { known: false, because: `the depth of ${name} is recorded below ground and its stick-up is not recorded` };
  const sum = millionths(recorded) + millionths(stickUpFt);
  return { known: true, millionthsFt: sum, text: `${decimalText(sum)} ft with its stick-up` };
}
