import type { ContaminantClass, DeconGear, DeconProtocol } from '../../catalog/decon/decon-protocol.ts';
import { DECON_PROTOCOLS } from '../../catalog/decon/decon-protocols.ts';

export interface ChosenProtocols {
  /** In the order in which they are carried out. */
  readonly advised: readonly DeconProtocol[];
  readonly uncovered: readonly ContaminantClass[];
}

/** What is gross comes off first, and what must not be brought in again is rinsed last. */
function rank({ against }: DeconProtocol): number {
  if (against.includes('product')) return 0;
  return against.includes('pfas') ? 2 : 1;
}

function without(classes: readonly ContaminantClass[], covered: readonly ContaminantClass[]): ContaminantClass[] {
  return classes.filter((one) => !covered.includes(one));
}

function covers({ against }: DeconProtocol, classes: readonly ContaminantClass[]): number {
  return classes.filter((one) => against.includes(one)).length;
}

/** The first protocol that covers most of what is left; undefined where none covers anything. */
function best(candidates: readonly DeconProtocol[], open: readonly ContaminantClass[]): DeconProtocol | undefined {
  return candidates.reduce<DeconProtocol | undefined>((sofar, one) => {
    const count = covers(one, open);
    return count > 0 && (sofar === undefined || count > covers(sofar, open)) ? one : sofar;
  }, undefined);
}

/** Those made for the gear; what is made for product stays out where there is none. */
function protocolsFor(gear: DeconGear, classes: readonly ContaminantClass[]): readonly DeconProtocol[] {
  const isProduct = classes.includes('product');
  return DECON_PROTOCOLS.filter(
    (protocol) => protocol.gear.includes(gear) && (isProduct || !protocol.against.includes('product')),
  );
}

/**
 * Which protocols together serve against these classes: those of the plan that are made for the gear, then as few more
 * as are needed, the first of the catalog where several serve. Product is met by its own protocol before anything else,
 * as what covers most might not be made for it.
 */
export function chooseProtocols(
  gear: DeconGear,
  classes: readonly ContaminantClass[],
  planned: readonly string[] = [],
): ChosenProtocols {
  const candidates = protocolsFor(gear, classes);
  const chosen = candidates.filter((protocol) => planned.includes(protocol.id) && covers(protocol, classes) > 0);
  let open = without(
    classes,
    chosen.flatMap(({ against }) => against),
  );
  for (const first of [open.filter((one) => one === 'product'), open]) {
    let wanted = without(
      first,
      chosen.flatMap(({ against }) => against),
    );
    for (let next = best(candidates, wanted); next; next = best(candidates, wanted)) {
      chosen.push(next);
      wanted = without(wanted, next.against);
    }
  }
  open = without(
    classes,
    chosen.flatMap(({ against }) => against),
  );
  return { advised: chosen.toSorted((a, b) => rank(a) - rank(b)), uncovered: open };
}
