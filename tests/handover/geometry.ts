import type { Page } from 'playwright-core';

/**
 * What lies wrong on a page, measured from bounding boxes: text beyond the page or its drawing, texts over each
 * other, text over a line or symbol of a drawing, text cut by what holds it.
 */
export function misplaced(page: Page): Promise<string[]> {
  return page.evaluate(IN_PAGE) as Promise<string[]>;
}

// As text, for it runs in the page: types of a browser have no place in this package.
const IN_PAGE = `(() => {
  const found = [];
  const wide = document.documentElement.clientWidth;
  if (document.documentElement.scrollWidth > wide) found.push('the page is wider than the window: ' + document.documentElement.scrollWidth);
  const hidden = (element) => element.closest('thead') !== null && getComputedStyle(element.closest('thead')).position === 'absolute';

  const texts = [];
  const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  while (walker.nextNode()) {
    const node = walker.currentNode;
    const parent = node.parentElement;
    if (node.data.trim() === '' || parent.closest('title, style, .unseen') || hidden(parent)) continue;
    const range = document.createRange();
    range.selectNodeContents(node);
    const svg = parent.closest('svg');
    // A word of ordinary length stands on one line.
    if (!svg && range.getClientRects().length > 1) {
      for (const word of node.data.matchAll(/(?<![^ (])[A-Za-z]{3,12}(?=[ .,;:)]|$)/g)) {
        const own = document.createRange();
        own.setStart(node, word.index);
        own.setEnd(node, word.index + word[0].length);
        const [first, ...more] = own.getClientRects();
        if (more.some((box) => box.top > first.top + 4)) found.push('word broken: ' + word[0] + ' in ' + node.data.trim().slice(0, 40));
      }
    }
    const boxes = svg ? [parent.getBoundingClientRect()] : [...range.getClientRects()];
    for (const box of boxes) {
      if (box.width < 0.5 || box.height < 0.5) continue;
      const text = { left: box.left, right: box.right, top: box.top + scrollY, bottom: box.bottom + scrollY, says: node.data.trim().slice(0, 40), node, svg, parent };
      texts.push(text);
      if (text.left < -0.5 || text.right > wide + 0.5) found.push('off the page: ' + text.says);
      if (svg) {
        const frame = svg.getBoundingClientRect();
        if (box.left < frame.left - 0.5 || box.right > frame.right + 0.5 || box.top < frame.top - 1 || box.bottom > frame.bottom + 1) found.push('beyond its drawing: ' + text.says);
      }
      for (let up = svg ? null : parent; up && up !== document.body; up = up.parentElement) {
        if (getComputedStyle(up).overflow === 'visible') continue;
        const frame = up.getBoundingClientRect();
        if (box.right > frame.right + 1 || box.bottom > frame.bottom + 1) found.push('cut: ' + text.says);
      }
    }
  }

  const meet = (a, b) => Math.min(a.right, b.right) - Math.max(a.left, b.left) > 1 && Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top) > 2;
  texts.sort((a, b) => a.top - b.top);
  for (let at = 0; at < texts.length; at++) {
    for (let next = at + 1; next < texts.length && texts[next].top < texts[at].bottom; next++) {
      if (texts[at].node !== texts[next].node && meet(texts[at], texts[next])) found.push('over each other: ' + texts[at].says + ' | ' + texts[next].says);
    }
  }

  for (const svg of document.querySelectorAll('svg')) {
    const own = texts.filter((text) => text.svg === svg);
    if (own.length === 0) continue;
    for (const shape of svg.querySelectorAll('line, rect, circle, path')) {
      const box = shape.getBoundingClientRect();
      const thick = shape.tagName === 'line' ? Number(shape.getAttribute('stroke-width')) / 2 : 0;
      const drawn = { left: box.left - (box.width < 1 ? 1 : 0), right: box.right + (box.width < 1 ? 1 : 0), top: box.top + scrollY - thick, bottom: box.bottom + scrollY + thick };
      for (const text of own) {
        const inside = drawn.left <= text.left && drawn.right >= text.right && drawn.top <= text.top + 2 && drawn.bottom >= text.bottom - 2;
        if (!inside && meet(drawn, text)) found.push('text over a ' + shape.tagName + ': ' + text.says);
      }
    }
  }
  return [...new Set(found)];
})()`;

/** Labels whose identifier is not whole, on one line, twice inside the label, or that leave their sheet. */
export function brokenLabels(page: Page): Promise<string[]> {
  return page.evaluate(LABELS) as Promise<string[]>;
}

const LABELS = `[...document.querySelectorAll('.label')].filter((label) => {
  const frame = label.getBoundingClientRect();
  const sheet = label.parentElement.getBoundingClientRect();
  const names = [...label.querySelectorAll('b')].map((name) => {
    const range = document.createRange();
    range.selectNodeContents(name);
    return { lines: range.getClientRects().length, box: range.getBoundingClientRect() };
  });
  const whole = names.every(({ lines, box }) => lines === 1 && box.left >= frame.left && box.right <= frame.right + 0.5 && box.top >= frame.top - 1 && box.bottom <= frame.bottom + 1);
  const apart = names.length === 2 && names[0].box.bottom <= names[1].box.top + 1;
  const onSheet = frame.right <= sheet.right + 0.5 && frame.bottom <= sheet.bottom + 0.5;
  return !(whole && apart && onSheet);
}).map((label) => label.textContent)`;
