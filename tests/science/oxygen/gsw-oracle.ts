import { spawnSync } from 'node:child_process';

const PROGRAM = `
import json, sys
import gsw
out = []
for t, s in json.load(sys.stdin):
    rho = gsw.rho(gsw.SA_from_SP(s, 0, 0, 45), gsw.CT_from_t(gsw.SA_from_SP(s, 0, 0, 45), t, 0), 0)
    out.append(float(gsw.O2sol_SP_pt(s, t)) * 31.9988e-6 * float(rho))
json.dump(out, sys.stdout)
`;

const SALINITY = `
import json, sys
import gsw
json.dump([float(gsw.SP_from_C(c / 1000, 25, 0)) for c in json.load(sys.stdin)], sys.stdout)
`;

function run(program: string, input: unknown): number[] | null {
  const { status, stdout } = spawnSync('/usr/bin/python3', ['-c', program], {
    input: JSON.stringify(input),
    encoding: 'utf8',
  });
  return status === 0 ? (JSON.parse(stdout) as number[]) : null;
}

/** Oxygen saturation in mg/L at 1 atm by TEOS-10 (Garcia and Gordon 1992); null where its library is not installed. */
export function gswSaturation(pairs: readonly (readonly [temperatureC: number, salinity: number])[]): number[] | null {
  return run(PROGRAM, pairs);
}

/** Practical salinity of 1978 from specific conductance in µS/cm; null where the library is not installed. */
export function gswSalinity(conductances: readonly number[]): number[] | null {
  return run(SALINITY, conductances);
}
