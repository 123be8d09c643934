import type { ClaimClash, SignOut, WellClaim } from '../rules/claims/claim-record.ts';
import { signOutClashes } from '../rules/claims/sign-outs.ts';
import { wellClaimClashes } from '../rules/claims/well-claims.ts';
import type { Derived } from '../rules/derive/derived.ts';
import { derivedId } from '../rules/derived-id.ts';
import type { Held } from '../rules/held.ts';
import type { Overlay } from '../rules/overlay.ts';
import type { Draft } from './group.ts';

/** Claims that can clash: those of one well in one event, or those of one unit. */
export interface ClaimKey {
  readonly kind: 'well-claim' | 'sign-out';
  readonly event: string | null;
  readonly of: string;
}

function keyOf(held: Held): ClaimKey[] {
  const { fields, kind } = held.state;
  if (kind === 'well-claim') return [{ kind, event: String(fields.event), of: String(fields.well) }];
  return kind === 'sign-out' ? [{ kind, event: null, of: String(fields.unit) }] : [];
}

/** A decision about a clash touches the claims that it is about. */
function claimsBehind(held: Held, overlay: Overlay): Held[] {
  const { kind, fields } = held.state;
  if (kind !== 'resolution') return [held];
  const subject = overlay.get(String(fields.subject));
  return subject ? [subject] : [];
}

function eachOnce(keys: readonly ClaimKey[]): ClaimKey[] {
  return [...new Map(keys.map((key) => [JSON.stringify(key), key])).values()];
}

/** Everything that these claims claim. */
export function allClaimKeys(claims: readonly Held[]): ClaimKey[] {
  return eachOnce(claims.flatMap(keyOf));
}

/** What the claims that a group touched claim, and claimed before. */
export function claimKeys(drafts: readonly Draft[], overlay: Overlay): ClaimKey[] {
  return allClaimKeys(
    drafts.flatMap(({ held, before }) => [...claimsBehind(held, overlay), ...(before ? [before] : [])]),
  );
}

function claimsOf(key: ClaimKey, overlay: Overlay): Held[] {
  const same = JSON.stringify(key);
  return overlay.ofKind(key.kind).filter((held) => keyOf(held).some((one) => JSON.stringify(one) === same));
}

export function storedClaimConflicts(key: ClaimKey, overlay: Overlay): Held[] {
  const claims = claimsOf(key, overlay);
  const under = claims.flatMap((claim) => overlay.under(claim.state.id));
  return under.filter((held) => held.state.kind === 'conflict' && held.state.fields.type === key.kind);
}

/** What the sentences call the crews, wells and units, so far as they are loaded. */
function names(overlay: Overlay): Map<string, string> {
  const named = ['crew', 'well', 'unit'].flatMap((kind) => overlay.ofKind(kind));
  return new Map(named.map(({ state }) => [state.id, String(state.fields.name ?? state.fields.label)]));
}

function clashes(key: ClaimKey, claims: readonly Held[], overlay: Overlay): readonly ClaimClash[] {
  const states = claims.map((claim) => claim.state);
  return key.kind === 'well-claim'
    ? wellClaimClashes(states as unknown as WellClaim[], names(overlay))
    : signOutClashes(states as unknown as SignOut[], names(overlay));
}

function resolutionOf(conflict: string, overlay: Overlay): string | undefined {
  const decided = overlay.ofKind('resolution').filter((held) => held.state.fields.conflict === conflict);
  return decided.map((held) => held.state.id).sort()[0];
}

/** The clashes among the claims of one key, each beside the later of its two claims. */
export function claimConflicts(firm: string, key: ClaimKey, overlay: Overlay): Derived[] {
  return clashes(key, claimsOf(key, overlay), overlay).flatMap((clash) => {
    const subject = overlay.get(clash.fields.subject);
    if (!subject) return [];
    const id = derivedId(firm, 'conflict', clash.key);
    const resolution = resolutionOf(id, overlay);
    const decided = resolution === undefined ? {} : { standing: 'resolved', resolution };
    const place = { feed: subject.feed, parent: subject.state.id, visit: null };
    return [{ kind: 'conflict', id, fields: { ...clash.fields, ...decided }, ...place }];
  });
}
