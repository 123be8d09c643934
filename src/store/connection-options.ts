/** What our type parsers rely on, whatever the server's own settings are. */
const READABLE = '-c timezone=UTC -c datestyle=ISO';

/** Settings that travel in the connection's first message, so that no statement can run before they hold. */
export function withOptions<T extends { options?: string | undefined }>(config: T, more = ''): T & { options: string } {
  return { ...config, options: [config.options, READABLE, more].filter(Boolean).join(' ') };
}
