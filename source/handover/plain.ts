/** Text without control characters or direction overrides, which could rearrange what a page or a terminal shows. */
export function plain(text: string): string {
  return text.replaceAll(
    /[\u0000-\u001f\u007f-\u009f\u200e\u200f\u2028\u2029\u202a-\u202e\u2066-\u2069]/g,
    ' ',
  );
}
