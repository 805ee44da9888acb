// Small helpers to build and update the page. Text always goes in as text.

export const $ = (id) => document.getElementById(id);

// el makes an element. Attributes that are false or null are left out.
export function el(tag, attributes = {}, ...children) {
  const made = document.createElement(tag);
  set(made, attributes);
  made.append(...children);
  return made;
}

// svg makes an element of a drawing.
export function svg(tag, attributes = {}) {
  const made = document.createElementNS('http://www.w3.org/2000/svg', tag);
  set(made, attributes);
  return made;
}

// set sets attributes, and takes away those that are false or null. ARIA wants
// true and false in words.
export function set(element, attributes) {
  for (let [name, value] of Object.entries(attributes)) {
    if (name.startsWith('aria-') && typeof value === 'boolean') value = String(value);
    if (value === false || value === null || value === undefined) element.removeAttribute(name);
    else if (element.getAttribute(name) !== String(value)) element.setAttribute(name, value === true ? '' : value);
  }
}

// text sets an element's text, only if it differs, so that nothing is spoken twice.
export function text(element, value) {
  if (element.textContent !== value) element.textContent = value;
}

// goTo shows another view, then acts there.
export function goTo(view, then) {
  const hash = `#${view}`;
  if (location.hash === hash) return then();
  addEventListener('hashchange', then, { once: true }); // after the view is shown
  location.hash = hash;
}

// inField is the field that an element is, or lies in, where keys type or choose.
export const inField = (target) => target.closest('input:not([type=radio]):not([type=checkbox]), select, textarea');

// sentenceOf starts words with a capital and ends them with a full stop.
export const sentenceOf = (words) => words && words[0].toUpperCase() + words.slice(1) + (/[.?!]$/.test(words) ? '' : '.');

// hide hides an element, or shows it. The focus is not lost with it but goes on at
// another.
export function hide(element, hidden, other) {
  const held = hidden && element.contains(document.activeElement);
  element.hidden = hidden;
  if (held) other.focus();
}

// each makes container hold one child for each item. Children stay in place and
// are brought up to date, so that the focus is not lost. With a key, a child stays
// with its item when others come or go before it.
export function each(container, items, make, update, key = (_, i) => i) {
  const keys = items.map((item, i) => String(key(item, i)));
  for (const child of [...container.children]) if (!keys.includes(child.dataset.item)) child.remove();
  items.forEach((item, i) => {
    let child = container.children[i];
    if (child?.dataset.item !== keys[i]) {
      child = [...container.children].find((c) => c.dataset.item === keys[i]) || make(item, i);
      child.dataset.item = keys[i];
      container.insertBefore(child, container.children[i] || null);
    }
    update(child, item, i);
  });
}

// keyed is text and the key that does the same, for a button.
export function keyed(button, label, key) {
  const cap = key ? el('kbd', { 'aria-hidden': 'true' }, keyName(key)) : '';
  button.replaceChildren(label, ...(key ? [' ', cap] : []));
  set(button, { 'aria-keyshortcuts': key || null });
}

export function keyName(key) {
  return key.length === 1 ? key.toUpperCase() : key;
}
