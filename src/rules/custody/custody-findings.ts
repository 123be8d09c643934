import { cutText } from '../flags/evidence.ts';
import type { Finding } from '../flags/raised-flag.ts';
import type { CoolerFacts } from './cooler-facts.ts';
import { type Beside, type CustodyRule, LONGEST_SENTENCE } from './custody-rule.ts';
import { bottleWithoutLabel } from './rules/bottle-without-label.ts';
import { brokenAtReceipt } from './rules/broken-at-receipt.ts';
import { collectedAfterHandOver } from './rules/collected-after-hand-over.ts';
import { containerNotPackedHere } from './rules/container-not-packed-here.ts';
import { containerNotReceived } from './rules/container-not-received.ts';
import { containerOfAnotherEvent } from './rules/container-of-another-event.ts';
import { contentsChangedAfterSigning } from './rules/contents-changed-after-signing.ts';
import { coolerCheckIncomplete } from './rules/cooler-check-incomplete.ts';
import { coolerNotColdOnTheWay } from './rules/cooler-not-cold-on-the-way.ts';
import { coolerNumberTwice } from './rules/cooler-number-twice.ts';
import { coolerOfAnotherLaboratory } from './rules/cooler-of-another-laboratory.ts';
import { coolerStillOnTheWay } from './rules/cooler-still-on-the-way.ts';
import { correctedAfterSigning } from './rules/corrected-after-signing.ts';
import { custodyGap } from './rules/custody-gap.ts';
import { handOverClocksDiffer } from './rules/hand-over-clocks-differ.ts';
import { handOverNumberTwice } from './rules/hand-over-number-twice.ts';
import { headspaceAtReceipt } from './rules/headspace-at-receipt.ts';
import { keptOvernightUnchecked } from './rules/kept-overnight-unchecked.ts';
import { keptTonightUnchecked } from './rules/kept-tonight-unchecked.ts';
import { openedAndResealed } from './rules/opened-and-resealed.ts';
import { packedInTwoCoolers } from './rules/packed-in-two-coolers.ts';
import { packedNotFilled } from './rules/packed-not-filled.ts';
import { packedWithoutIce } from './rules/packed-without-ice.ts';
import { preservativeWrongAtReceipt } from './rules/preservative-wrong-at-receipt.ts';
import { receiptCountDiffers } from './rules/receipt-count-differs.ts';
import { receiptTemperatureMissing } from './rules/receipt-temperature-missing.ts';
import { receivedBeforeRelinquished } from './rules/received-before-relinquished.ts';
import { receivedFrozen } from './rules/received-frozen.ts';
import { receivedTooWarm } from './rules/received-too-warm.ts';
import { receivedWarmSameDay } from './rules/received-warm-same-day.ts';
import { sealBrokenOnTheWay } from './rules/seal-broken-on-the-way.ts';
import { sealMissingAtHandOver } from './rules/seal-missing-at-hand-over.ts';
import { sealNumberTwice } from './rules/seal-number-twice.ts';
import { sealNumbersDiffer } from './rules/seal-numbers-differ.ts';
import { sealsBrokenAtReceipt } from './rules/seals-broken-at-receipt.ts';
import { signerWithoutOrganization } from './rules/signer-without-organization.ts';
import { temperatureBlankMissing } from './rules/temperature-blank-missing.ts';
import { trackingNumberMissing } from './rules/tracking-number-missing.ts';
import { tripBlankMissing } from './rules/trip-blank-missing.ts';
import { twoHoldersAtOnce } from './rules/two-holders-at-once.ts';

/** Every rule about coolers and what the laboratory found in them. */
export const CUSTODY_FLAG_RULES: readonly CustodyRule[] = [
  bottleWithoutLabel,
  brokenAtReceipt,
  collectedAfterHandOver,
  containerNotPackedHere,
  containerNotReceived,
  containerOfAnotherEvent,
  contentsChangedAfterSigning,
  coolerCheckIncomplete,
  coolerNotColdOnTheWay,
  coolerNumberTwice,
  coolerOfAnotherLaboratory,
  coolerStillOnTheWay,
  correctedAfterSigning,
  keptTonightUnchecked,
  custodyGap,
  handOverClocksDiffer,
  handOverNumberTwice,
  headspaceAtReceipt,
  keptOvernightUnchecked,
  openedAndResealed,
  packedInTwoCoolers,
  packedNotFilled,
  packedWithoutIce,
  preservativeWrongAtReceipt,
  receiptCountDiffers,
  receiptTemperatureMissing,
  receivedBeforeRelinquished,
  receivedFrozen,
  receivedTooWarm,
  receivedWarmSameDay,
  sealBrokenOnTheWay,
  sealMissingAtHandOver,
  sealNumberTwice,
  sealNumbersDiffer,
  sealsBrokenAtReceipt,
  signerWithoutOrganization,
  temperatureBlankMissing,
  trackingNumberMissing,
  tripBlankMissing,
  twoHoldersAtOnce,
];

export interface CustodyFinding extends Finding {
  readonly rule: CustodyRule;
}

const NOTHING_BESIDE: Beside = { former: [], contents: [], twice: [], now: null };

/** "Cooler C-1", once where the number itself says so. */
function coolerName({ cooler: { fields } }: CoolerFacts): string {
  return /^cooler\b/i.test(fields.number) ? fields.number : `Cooler ${fields.number}`;
}

/** What is to be asked about one cooler and its receipts; each sentence names the cooler, since it is read among those of others. */
export function custodyFindings(facts: CoolerFacts, beside: Beside = NOTHING_BESIDE): readonly CustodyFinding[] {
  const name = coolerName(facts);
  return CUSTODY_FLAG_RULES.flatMap((rule) =>
    rule.find(facts, beside).map((finding) => {
      const sentence = cutText(`${name}: ${finding.sentence}`, LONGEST_SENTENCE);
      return { ...finding, sentence, rule };
    }),
  );
}
