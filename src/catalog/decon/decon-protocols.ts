import type { DeconProtocol } from './decon-protocol.ts';
import { acidThenSolvent } from './protocols/acid-then-solvent.ts';
import { bladderPumpNewParts } from './protocols/bladder-pump-new-parts.ts';
import { handGearWash } from './protocols/hand-gear-wash.ts';
import { inorganicsAcidBeforeTapWater } from './protocols/inorganics-acid-before-tap-water.ts';
import { inorganicsAcidRinse } from './protocols/inorganics-acid-rinse.ts';
import { meterRinse } from './protocols/meter-rinse.ts';
import { organicsAcetoneRinse } from './protocols/organics-acetone-rinse.ts';
import { pfasFreeRinse } from './protocols/pfas-free-rinse.ts';
import { productContact } from './protocols/product-contact.ts';
import { pumpFlush } from './protocols/pump-flush.ts';
import { tapeWipeDown } from './protocols/tape-wipe-down.ts';

/**
 * Every protocol of decontamination, what is made for one kind of gear before what is for any: where no plan chooses, the
 * first that serves is proposed. A protocol is never taken out or changed: records of the past cite it.
 */
export const DECON_PROTOCOLS: readonly DeconProtocol[] = [
  productContact,
  bladderPumpNewParts,
  pumpFlush,
  tapeWipeDown,
  meterRinse,
  handGearWash,
  acidThenSolvent,
  organicsAcetoneRinse,
  inorganicsAcidRinse,
  inorganicsAcidBeforeTapWater,
  pfasFreeRinse,
];

const BY_ID: ReadonlyMap<string, DeconProtocol> = new Map(DECON_PROTOCOLS.map((protocol) => [protocol.id, protocol]));

/** Undefined where the catalog of this release holds no protocol of that name. */
export function deconProtocol(id: string): DeconProtocol | undefined {
  return BY_ID.get(id);
}
