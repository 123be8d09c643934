/**
 * What the embedded server runs with, given on its command line so that an existing data folder follows the code.
 * Durability is PostgreSQL's own default, written out because an acknowledged record must survive a power cut.
 */
export const serverSettings: Readonly<Record<string, string>> = {
  listen_addresses: '',
  unix_socket_permissions: '0700',
  max_connections: '40',
  fsync: 'on',
  synchronous_commit: 'on',
  full_page_writes: 'on',
  idle_in_transaction_session_timeout: '10s',
  timezone: 'UTC',
  log_timezone: 'UTC',
  log_min_messages: 'warning',
  log_checkpoints: 'off',
  log_line_prefix: '%m [%p] ',
};

/** Every socket's name ends in this number; nothing listens on a network port. */
export const SOCKET_NUMBER = 5432;

export function settingArguments(socketFolder: string, settings: Readonly<Record<string, string>>): string[] {
  const all = { ...serverSettings, ...settings, port: String(SOCKET_NUMBER), unix_socket_directories: socketFolder };
  return Object.entries(all).flatMap(([name, value]) => ['-c', `${name}=${value}`]);
}
