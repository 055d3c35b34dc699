/**
 * A moment as people read it: local, with the offset of that moment.
 *
 * @param at RFC 3339, as records have it
 */
export function localTime(at: string): string {
  const time = new Date(at);
  if (Number.isNaN(time.getTime())) return at;
  const two = (value: number) => String(value).padStart(2, '0');
  const offset = -time.getTimezoneOffset();
  const zone = `${offset < 0 ? '-' : '+'}${two(Math.floor(Math.abs(offset) / 60))}:${two(Math.abs(offset) % 60)}`;
  const day = `${time.getFullYear()}-${two(time.getMonth() + 1)}-${two(time.getDate())}`;
  return `${day} ${two(time.getHours())}:${two(time.getMinutes())} ${zone}`;
}

/**
 * How long ago, in the two largest units that matter.
 *
 * @example spanWords(187200) // => '2 days 4 h'
 */
export function spanWords(seconds: number): string {
  const minutes = Math.floor(seconds / 60);
  if (minutes < 1) return 'less than a minute';
  if (minutes < 60) return `${minutes} min`;
  const hours = Math.floor(minutes / 60);
  if (hours < 24) return `${hours} h ${minutes % 60} min`;
  const days = Math.floor(hours / 24);
  return `${days} ${days === 1 ? 'day' : 'days'} ${hours % 24} h`;
}
