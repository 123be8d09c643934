/** What the store says to whoever runs it. A pino or Fastify logger fits as it is. */
export interface StoreLog {
  info(details: object, message: string): void;
  warn(details: object, message: string): void;
  error(details: object, message: string): void;
}
