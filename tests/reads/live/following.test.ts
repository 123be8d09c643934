import { describe, expect, it } from 'vitest';
import { type EndReason, Following } from '../../../src/reads/live/following.ts';
import type { FeedTails } from '../../../src/reads/live/look.ts';

const READER = { firm: 'f', token: 't', role: 'crew', device: 'd' } as const;

function tails(members: Record<string, number>): FeedTails {
  return new Map(Object.entries(members));
}

function follower(named: readonly string[] | null = null) {
  const told: Record<string, number>[] = [];
  const objects: FeedTails[] = [];
  const ends: EndReason[] = [];
  const following = new Following(
    {
      reader: READER,
      named: named && new Set(named),
      tell: (news) => {
        objects.push(news);
        told.push(Object.fromEntries(news));
      },
      end: (reason) => void ends.push(reason),
    },
    5_000,
  );
  return { following, told, objects, ends };
}

describe('who follows feeds', () => {
  it('[L1] is told of what was heard while it was asked where the feeds are', () => {
    const { following, told } = follower();
    following.hear(tails({ a: 5, of_others: 9 }), 0);
    following.see(tails({ a: 4, b: 3 }), 0);
    following.open(tails({ a: 4, b: 2 }), 0);
    expect(told).toEqual([{ a: 5, b: 3 }]);
  });

  it('[L2] hears of feeds that it follows, once a tail, in the same object as all others where it can be', () => {
    const { following, told, objects } = follower();
    following.open(tails({ a: 1, b: 1 }), 0);
    const all = tails({ a: 2, b: 2 });
    following.hear(all, 1);
    expect(objects[1]).toBe(all);
    following.hear(all, 1);
    following.hear(tails({ a: 1, b: 3, c: 7 }), 1);
    expect(told.slice(2)).toEqual([{ b: 3 }]);
  });

  it('[L3] is told by a look what it did not hear, also that a feed ends earlier than was said', () => {
    const { following, told } = follower();
    following.open(tails({ a: 5, b: 5 }), 0);
    following.see(tails({ a: 3, b: 6 }), 1);
    following.see(tails({ a: 3, b: 6 }), 2);
    following.hear(tails({ a: 4 }), 3);
    expect(told.slice(1)).toEqual([{ a: 3, b: 6 }, { a: 4 }]);
  });

  it('[L2] is told of a feed that it may follow since lately, unless it named those that it wants', () => {
    const all = follower();
    const named = follower(['a']);
    for (const { following } of [all, named]) {
      following.open(tails({ a: 1 }), 0);
      following.see(tails({ a: 1, b: 4 }), 1);
    }
    expect([all.told.slice(1), named.told.slice(1)]).toEqual([[{ b: 4 }], []]);
  });

  it('[L4] is ended where its token is revoked, and where a feed is lost', () => {
    const [revoked, lost] = [follower(), follower()];
    for (const { following } of [revoked, lost]) following.open(tails({ a: 1, b: 1 }), 0);
    revoked.following.see(null, 1);
    lost.following.see(tails({ a: 9 }), 1);
    expect([revoked.ends, lost.ends]).toEqual([['revoked'], ['rights']]);
    expect([revoked.told.length, lost.told.length]).toEqual([1, 1]);
  });

  it('[L4] is told nothing while nobody can say whether it still may, and everything afterwards', () => {
    const { following, told } = follower();
    following.open(tails({ a: 1 }), 0);
    following.hear(tails({ a: 2 }), 5_000);
    following.hear(tails({ a: 3 }), 5_001);
    expect(told.slice(1)).toEqual([{ a: 2 }]);
    following.see(tails({ a: 3 }), 9_000);
    following.hear(tails({ a: 4 }), 9_001);
    expect(told.slice(2)).toEqual([{ a: 3 }, { a: 4 }]);
  });
});
