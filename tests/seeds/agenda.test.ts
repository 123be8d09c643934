import { describe, expect, it } from 'vitest';
import { Agenda } from '../../seeds/play/agenda.ts';
import { instantOf, PhoneClock, stamp, WorldClock } from '../../seeds/play/clock.ts';

const ZONE = 'America/Chicago';
const START = instantOf('2026-10-13', '07:00', ZONE);
const at = (time: string) => instantOf('2026-10-13', time, ZONE);

function agenda() {
  return new Agenda(new WorldClock(START));
}

describe('the agenda of the play', () => {
  it('runs crews side by side in the order of the simulated time, one at a time', async () => {
    const day = agenda();
    const said: string[] = [];
    const crew = (name: string, ...times: string[]) => {
      return async () => {
        for (const time of times) {
          await day.until(at(time));
          said.push(`${name} ${time} begins`);
          await new Promise((resolve) => setImmediate(resolve));
          said.push(`${name} ${time} ends`);
        }
      };
    };
    await day.run([crew('north', '08:10', '09:00'), crew('south', '08:05', '08:10', '10:00')]);
    const both = (step: string) => [`${step} begins`, `${step} ends`];
    const steps = ['south 08:05', 'north 08:10', 'south 08:10', 'north 09:00', 'south 10:00'];
    expect(said).toEqual(steps.flatMap(both));
    expect(day.clock.nowMs).toBe(at('10:00'));
  });

  it('lets who is late go on at once, and never turns the time back', async () => {
    const day = agenda();
    await day.run([
      async () => {
        await day.until(at('09:00'));
        await day.until(at('08:00'));
        expect(day.clock.nowMs).toBe(at('09:00'));
      },
    ]);
  });

  it('fails with the first part that fails, and lets no other part go on', async () => {
    const day = agenda();
    let wentOn = false;
    const failing = async () => {
      await day.until(at('08:00'));
      throw new Error('the truck broke down');
    };
    const waiting = async () => {
      await day.until(at('09:00'));
      wentOn = true;
    };
    await expect(day.run([failing, waiting])).rejects.toThrow('the truck broke down');
    expect(wentOn).toBe(false);
  });
});

describe('the clocks of the play', () => {
  it('write a time of day with the offset of the site, in summer and in winter', () => {
    expect(stamp(at('08:10'), ZONE)).toBe('2026-10-13T08:10:00-05:00');
    expect(stamp(instantOf('2026-12-13', '08:10', ZONE), ZONE)).toBe('2026-12-13T08:10:00-06:00');
  });

  it('refuse a time of day that the change of clocks leaves out', () => {
    expect(() => instantOf('2026-03-08', '02:30', ZONE)).toThrow();
  });

  it('keep a wrong wall clock apart from the monotonic one, which a new boot begins anew', () => {
    const world = new WorldClock(START);
    const phone = new PhoneClock(world, ZONE, 3_600_000);
    const before = phone.monotonicMs();
    world.pass(5_000);
    expect(phone.wall()).toBe('2026-10-13T08:00:05-05:00');
    expect(phone.monotonicMs() - before).toBe(5_000);
    const { boot } = phone;
    phone.restart();
    expect(phone.monotonicMs()).toBe(0);
    expect(phone.boot).not.toBe(boot);
  });

  it('go on with the time of the machine once the play is over', () => {
    const world = new WorldClock(START);
    let machineMs = 77;
    world.goOn(() => machineMs);
    machineMs += 1_500;
    expect(world.nowMs).toBe(START + 1_500);
  });
});
