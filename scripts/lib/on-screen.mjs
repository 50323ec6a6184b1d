// Runs in the page: what of its text is cut off or lies on other text, and which targets are under 24 px.

/** One line for each thing that is wrong with what is seen now. It is handed to the page as it stands: no imports. */
export function findOnScreen() {
  const LEAST_PX = 24;
  const lines = [];
  const told = (element) => {
    const own = element.getAttribute('aria-label') || element.textContent || element.getAttribute('name') || '';
    const at = element.closest('[class]')?.getAttribute('class')?.split(' ')[0] ?? '';
    return `${element.tagName.toLowerCase()}.${at} “${own.trim().replace(/\s+/g, ' ').slice(0, 50)}”`;
  };
  /** What is left of a rectangle inside everything that cuts it off; null where nothing is. `hard`: by what does not scroll. */
  const visible = (element, rect, ofText = false) => {
    let { left, top, right, bottom } = rect;
    let hard = false;
    // of what is folded the places are known, and nothing is seen
    if (!element.checkVisibility()) return null;
    for (let box = element; box && box !== document.documentElement; box = box.parentElement) {
      const style = getComputedStyle(box);
      if (style.visibility === 'hidden' || style.display === 'none' || style.opacity === '0') return null;
      if (style.clipPath !== 'none' && style.clipPath.startsWith('inset(50%')) return null;
      // an element's own box cuts its text, not itself
      if ((box !== element || ofText) && style.overflow !== 'visible') {
        const b = box.getBoundingClientRect();
        const sides = [
          Math.max(left, b.left),
          Math.max(top, b.top),
          Math.min(right, b.right),
          Math.min(bottom, b.bottom),
        ];
        // what scrolls shows the rest on request
        const [x, y] = [style.overflowX, style.overflowY].map((o) => o === 'hidden' || o === 'clip');
        if (
          (x && (sides[0] > left + 1 || sides[2] < right - 1)) ||
          (y && (sides[1] > top + 1 || sides[3] < bottom - 1))
        )
          hard = true;
        [left, top, right, bottom] = sides;
      }
      if (style.position === 'fixed') break;
    }
    right = Math.min(right, innerWidth);
    bottom = Math.min(bottom, innerHeight);
    return right - Math.max(left, 0) < 1 || bottom - Math.max(top, 0) < 1 ? null : { left, top, right, bottom, hard };
  };
  /** Whether a place shows the element, or something of it or around it. */
  const onTop = (element, x, y) => {
    const seen = document.elementFromPoint(x, y);
    return seen !== null && (element.contains(seen) || seen.contains(element));
  };

  const texts = [];
  const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  for (let node = walker.nextNode(); node; node = walker.nextNode()) {
    const element = node.parentElement;
    if (!node.textContent.trim() || element.closest('option, script, style, textarea, .sheet-paper, .drawing-paper'))
      continue;
    const range = document.createRange();
    range.selectNodeContents(node);
    for (const rect of range.getClientRects()) {
      const seen = visible(element, rect, true);
      if (!seen) continue;
      const style = getComputedStyle(element);
      const short = style.textOverflow === 'ellipsis' && element.closest('[title]') !== null;
      if (seen.hard && !short) lines.push(`cut off: ${told(element)}`);
      if (!onTop(element, (seen.left + seen.right) / 2, (seen.top + seen.bottom) / 2)) continue;
      texts.push({ element, ...seen });
    }
    // an ellipsis cuts the letters and not their boxes
    const box = element.scrollWidth - element.clientWidth;
    const style = getComputedStyle(element);
    if (
      box > 1 &&
      style.textOverflow === 'ellipsis' &&
      !element.closest('[title]') &&
      visible(element, element.getBoundingClientRect())
    )
      lines.push(`cut short and nowhere in full: ${told(element)}`);
  }
  texts.sort((a, b) => a.left - b.left);
  texts.forEach((a, i) => {
    for (let k = i + 1; k < texts.length && texts[k].left < a.right - 2; k++) {
      const b = texts[k];
      if (a.element === b.element || Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top) < 5) continue;
      if (a.right - b.left > 2) lines.push(`on one another: ${told(a.element)} and ${told(b.element)}`);
    }
  });

  const pen = document.createElement('canvas').getContext('2d');
  for (const field of document.querySelectorAll('input:not([type=range], [type=checkbox], [type=file]), select')) {
    if (!visible(field, field.getBoundingClientRect())) continue;
    const style = getComputedStyle(field);
    pen.font = `${style.fontWeight} ${style.fontSize} ${style.fontFamily}`;
    const text =
      field.tagName === 'SELECT' ? (field.selectedOptions[0]?.textContent ?? '') : field.value || field.placeholder;
    // an arrow takes its room in a list
    const room =
      field.clientWidth -
      parseFloat(style.paddingLeft) -
      parseFloat(style.paddingRight) -
      (field.tagName === 'SELECT' ? 18 : 0);
    const width = pen.measureText(text.trim()).width * (parseFloat(style.fontStretch) / 100 || 1);
    if (width > room + 2 && !field.title) lines.push(`does not fit its field: ${told(field)} “${text.trim()}”`);
  }

  const TARGETS = 'button, a[href], input:not([type=file]), select, summary, textarea, [role=slider], [tabindex="0"]';
  for (const target of document.querySelectorAll(TARGETS)) {
    if (target.matches('input[type=checkbox], input[type=radio]') && target.closest('label, td')) {
      const around = target.closest('label, td').getBoundingClientRect();
      if (around.width >= LEAST_PX && around.height >= LEAST_PX) continue;
    }
    const rect = target.getBoundingClientRect();
    const seen = visible(target, rect);
    if (!seen || seen.right - seen.left < 4 || seen.bottom - seen.top < 4) continue;
    // a link inside a sentence is as high as its line
    if (target.matches('.link') && getComputedStyle(target).display === 'inline') continue;
    if (rect.width < LEAST_PX - 0.5 || rect.height < LEAST_PX - 0.5)
      lines.push(`under ${LEAST_PX} px: ${told(target)} ${rect.width.toFixed(0)} × ${rect.height.toFixed(0)}`);
  }
  return [...new Set(lines)];
}
