/**
 * A place that probes touch, as people call it.
 *
 * @example placeName('old:8') // => 'screw 8'
 */
export function placeName(point: string): string {
  return point.replace(/^old:/, 'screw ').replace(/^([a-z0-9-]+):/, '$1 ');
}
