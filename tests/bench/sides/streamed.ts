import { Agent, request } from 'node:http';

/** What came of an answer, whose bytes are counted and thrown away. */
export interface Streamed {
  readonly bytes: number;
  readonly firstMs: number;
  readonly ms: number;
  /** Its last bytes, which say whether it is whole. */
  readonly end: string;
}

const END_BYTES = 200;

/** Asks for something that is sent as it is made, and takes it as fast as it comes. */
export function takeStreamed(agent: Agent, url: string, headers: Readonly<Record<string, string>>): Promise<Streamed> {
  const begun = performance.now();
  return new Promise((resolve, reject) => {
    const asked = request(url, { agent, headers }, (response) => {
      let [bytes, firstMs, end] = [0, 0, ''];
      response.on('data', (chunk: Buffer) => {
        if (bytes === 0) firstMs = performance.now() - begun;
        bytes += chunk.length;
        end = (end + chunk.toString('latin1', Math.max(0, chunk.length - END_BYTES))).slice(-END_BYTES);
      });
      response.on('error', reject);
      response.on('end', () => {
        if (response.statusCode === 200) resolve({ bytes, firstMs, ms: performance.now() - begun, end });
        else reject(new Error(`${url} was answered ${response.statusCode}: ${end}`));
      });
    });
    asked.on('error', reject);
    asked.end();
  });
}

export function keptConnection(): Agent {
  return new Agent({ keepAlive: true, maxSockets: 1 });
}
