/** What an earlier version stored and this one cannot read. The steps stand all the same, so work goes on. */
export class StoredUnreadable extends Error {
  override readonly name = 'StoredUnreadable';
}
