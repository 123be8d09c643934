import { blindDuplicateShows } from './rules/blind-duplicate-shows.ts';
import { blindDuplicateWithoutTime } from './rules/blind-duplicate-without-time.ts';
import { bubbleInContainer } from './rules/bubble-in-container.ts';
import { containerOfOtherSample } from './rules/container-of-other-sample.ts';
import { containerOfOtherSuite } from './rules/container-of-other-suite.ts';
import { droppedButFilled } from './rules/dropped-but-filled.ts';
import { droppedWithoutAgreement } from './rules/dropped-without-agreement.ts';
import { fillOrderBroken } from './rules/fill-order-broken.ts';
import { fillTimesContradict } from './rules/fill-times-contradict.ts';
import { filledAgainWithPreservative } from './rules/filled-again-with-preservative.ts';
import { filledAtAnotherVisit } from './rules/filled-at-another-visit.ts';
import { filledAtNoTime } from './rules/filled-at-no-time.ts';
import { filledBeforeCall } from './rules/filled-before-call.ts';
import { filledBeforePurge } from './rules/filled-before-purge.ts';
import { filledBeforeSample } from './rules/filled-before-sample.ts';
import { filledForNothing } from './rules/filled-for-nothing.ts';
import { filledLongAfterPurge } from './rules/filled-long-after-purge.ts';
import { filledOutsideVisit } from './rules/filled-outside-visit.ts';
import { filledTooFast } from './rules/filled-too-fast.ts';
import { filledWithCellOn } from './rules/filled-with-cell-on.ts';
import { filterNotTold } from './rules/filter-not-told.ts';
import { filterTooCoarse } from './rules/filter-too-coarse.ts';
import { filteredButMustNot } from './rules/filtered-but-must-not.ts';
import { headspaceNotLeft } from './rules/headspace-not-left.ts';
import { leftUnfilled } from './rules/left-unfilled.ts';
import { notFiltered } from './rules/not-filtered.ts';
import { phOutOfRange } from './rules/ph-out-of-range.ts';
import { preservativeMissing } from './rules/preservative-missing.ts';
import { qcSampleWithoutParent } from './rules/qc-sample-without-parent.ts';
import { suiteWithoutContainer } from './rules/suite-without-container.ts';
import { toldTimeAfterCollection } from './rules/told-time-after-collection.ts';
import { tooFewContainers } from './rules/too-few-containers.ts';
import { tooLittleWater } from './rules/too-little-water.ts';
import { wrongContainer } from './rules/wrong-container.ts';
import { wrongPreservative } from './rules/wrong-preservative.ts';
import type { SampleRule } from './sample-rule.ts';

/** Every rule about samples and their containers that the sources support. */
export const SAMPLE_RULES: readonly SampleRule[] = [
  blindDuplicateShows,
  blindDuplicateWithoutTime,
  bubbleInContainer,
  containerOfOtherSample,
  containerOfOtherSuite,
  droppedButFilled,
  droppedWithoutAgreement,
  fillOrderBroken,
  fillTimesContradict,
  filledAgainWithPreservative,
  filledAtAnotherVisit,
  filledAtNoTime,
  filledBeforeCall,
  filledBeforePurge,
  filledBeforeSample,
  filledForNothing,
  filledLongAfterPurge,
  filledOutsideVisit,
  filledTooFast,
  filledWithCellOn,
  filterNotTold,
  filterTooCoarse,
  filteredButMustNot,
  headspaceNotLeft,
  leftUnfilled,
  notFiltered,
  phOutOfRange,
  preservativeMissing,
  qcSampleWithoutParent,
  suiteWithoutContainer,
  toldTimeAfterCollection,
  tooFewContainers,
  tooLittleWater,
  wrongContainer,
  wrongPreservative,
];
