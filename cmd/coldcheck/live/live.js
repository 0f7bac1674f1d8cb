// The page of the live bench. It works nothing out: it asks, and shows the answer. What is set stands in the
// address behind #, what was typed in the session's storage.
'use strict';
(() => {
  /** @typedef {{text: string, why: string}} Step */
  /** @typedef {{plug: string, settings: Object<string, string>, faults: string[], isolated: boolean, earthed: string[], done: number}} Asked */
  /** @typedef {{value: string, label: string}} Choice */
  // What the bench answers, as its Go structs have it.
  /** @typedef {{signal: string, count: number}} Tally */
  /** @typedef {{signal: string, message: string, how: string}} Item */
  /** @typedef {{edition: number, plan: number, file: string, name: string, facts: string[], slips: string[], gone: boolean, plan_name: string, plan_steps: Step[], plan_slips: string[]}} Head */
  /** @typedef {{name: string, label: string, positions: Choice[]}} Switch */
  /** @typedef {{plugs: Choice[], switches: Switch[], faults: {value: string, label: string, group: string}[], points: string[], parts: Choice[], set: Asked}} Controls */
  /** @typedef {{name: string, points: string[], band: number, body: string, head: string, figures: string, drawing: string, ways: string, branches: string[][]}} Card */
  /** @typedef {{names: string, band: number, body: string, head: string}} Hands */
  /** @typedef {{head: Head, controls: Controls, words: string, dropped: string[], cards: Card[]|null, hands: Hands[]}} State */
  /** @typedef {{kind: string, name: string, steps: Step[], labels: string[], after: Tally[]}} Proposal */
  /** @typedef {{edition: number, tried: boolean, tally: Tally[], depths: {node: string, words: string}[], html: string, plans: Proposal[], everyday: Asked|null, one_failure: Asked|null}} Findings */
  /** @typedef {{labels: string[], wrong: string, before: Tally[], after: Tally[], cured: Item[], left: Item[], new: Item[], stages: string[], out: number, cut_off: boolean, unlooked: string}} Does */
  /** @typedef {{id: string, where: string, expect: string, unit: string, bar: string}} Check */
  /** @typedef {{key: string, title: string, about: string, warn: string, checks: Check[]}} Section */
  /** @typedef {{id: string, verdict: string, words: string}} Judged */
  /** @typedef {{judged: Judged[], account: {say: string, explained: {words: string, fits: string}[], next: string}|null}} Readings */

  const token = location.pathname.split('/')[1];
  const mostFaults = 3;
  /** How often the bench is asked again that has too much to do. */
  const patience = 20;

  /** @param {string} id @returns {any} */
  const byId = (id) => document.getElementById(id);

  /** What is set. @type {Asked} */
  let set = { plug: '', settings: {}, faults: [], isolated: false, earthed: [], done: 0 };
  /** What was typed: the plan's steps and what it is for, and readings by the check that they are of. */
  /** @type {{steps: Step[]|null, name: string, readings: Object<string, string>}} */
  const typed = { steps: null, name: '', readings: {} };
  /** The answer that is on show. @type {State|null} */
  let shown = null;
  /** What the findings' buttons put into the plan. @type {Findings|null} */
  let findings = null;
  /** The checks of the checklist. @type {{sections: Section[]}|null} */
  let checks = null;
  const seen = { edition: -1, plan: -1, findings: -1, checks: -1 };

  // ---- asking

  class Refused extends Error {}

  /**
   * @param {string} what
   * @param {any} body
   * @returns {Promise<any>}
   */
  async function ask(what, body) {
    let answer = null;
    const asking = crypto.randomUUID(); // what takes long is picked up by asking again
    for (let tries = 0; !answer || answer.status === 202 || answer.status === 503 && tries < patience; tries++) {
      if (answer && answer.status === 503) { await new Promise((go) => { setTimeout(go, 1000); }); } // it has much to do
      try {
        answer = await fetch('/' + what, {
          method: 'POST', body: JSON.stringify(body), credentials: 'omit', redirect: 'error', cache: 'no-store',
          headers: { 'Content-Type': 'application/json', 'Coldcheck-Token': token, 'Coldcheck-Ask': asking },
        });
      } catch (_) {
        away();
        throw new Refused('The bench does not answer.');
      }
    }
    if (!answer.ok) {
      const text = (await answer.text()).trim();
      throw new Refused(sentence(text));
    }
    return answer.json();
  }

  /**
   * The latest of several askings of one sort counts: what comes of an earlier one is not shown.
   * @param {string} what
   * @returns {(body: any) => Promise<any>}
   */
  function latest(what) {
    let last = 0;
    return async (body) => {
      const own = ++last;
      const answer = await ask(what, body).catch((e) => { if (own === last) { throw e; } return null; });
      return own === last ? answer : null;
    };
  }
  const askState = latest('state');
  const askPlan = latest('plan');
  const askOffers = latest('offers');

  // ---- small things

  /**
   * @param {string} tag
   * @param {any} [props]
   * @param {...(Node|string)} children
   * @returns {any}
   */
  function el(tag, props, ...children) {
    const e = document.createElement(tag);
    for (const [key, value] of Object.entries(props || {})) {
      if (key in e && key !== 'list') { /** @type {any} */ (e)[key] = value; } else { e.setAttribute(key, String(value)); }
    }
    e.append(...children);
    return e;
  }
  /** A name, kept apart from the text around it. @param {string} text */
  const name = (text) => el('bdi', { textContent: text });

  /** @param {any} select @param {Choice[]} choices @param {string} value @param {string} none */
  function fill(select, choices, value, none) {
    select.replaceChildren(el('option', { value: '', textContent: none }), ...choices.map((c) => el('option', { value: c.value, textContent: c.label })));
    select.value = value;
    if (select.selectedIndex < 0) { select.value = ''; }
  }

  /** Words in letters that are written from right to left come from names: they are set apart from the sentence. @param {string} text */
  const apart = (text) => text.replace(/[\u0590-\u08ff\ufb1d-\ufdff\ufe70-\ufefc](?:[\u0590-\u08ff\ufb1d-\ufdff\ufe70-\ufefc\d _-]*[\u0590-\u08ff\ufb1d-\ufdff\ufe70-\ufefc])?/g, '\u2068$&\u2069');

  /** @param {any} at @param {string} text */
  function say(at, text) {
    const told = apart(text);
    if (at.textContent !== told) { at.textContent = told; }
    if (at.id === 'line') { at.hidden = !text; }
  }

  /** @param {{signal: string, count: number}[]} tally */
  const tallyWords = (tally) => tally.map((t) => t.count + ' ' + t.signal).join(', ') || 'nothing found';

  /** @param {string} text */
  const sentence = (text) => text.charAt(0).toUpperCase() + text.slice(1) + (/[.?!]$/.test(text) ? '' : '.');

  /** @param {any} e */
  const why = (e) => e instanceof Refused ? e.message : 'The page came upon something that it does not understand: ' + e.message;

  // ---- keeping

  const drawer = () => 'coldcheck ' + (shown && shown.head.file || '');
  function keep() {
    try { sessionStorage.setItem(drawer(), JSON.stringify(typed)); } catch (_) { /* then it stays in the page alone */ }
  }
  function fetchKept() {
    try {
      const kept = JSON.parse(sessionStorage.getItem(drawer()) || '{}');
      if (Array.isArray(kept.steps)) { typed.steps = kept.steps.filter((/** @type {any} */ s) => s && typeof s.text === 'string').map((/** @type {any} */ s) => ({ text: s.text, why: String(s.why || '') })); }
      if (typeof kept.name === 'string') { typed.name = kept.name; }
      if (kept.readings && typeof kept.readings === 'object') { typed.readings = kept.readings; }
    } catch (_) { /* nothing is kept */ }
  }

  // ---- what is set, in the address

  function toFragment() {
    const q = new URLSearchParams();
    if (set.plug && set.plug !== 'as-marked') { q.set('plug', set.plug); }
    for (const s of shown ? shown.controls.switches : []) {
      const at = set.settings[s.name];
      if (at !== undefined && at !== s.positions[0].value) { q.set('at:' + s.name, at); }
    }
    set.faults.forEach((f) => q.append('failed', f));
    if (set.isolated) { q.set('supply', 'isolated'); }
    set.earthed.forEach((n) => q.append('earthed', n));
    if (set.done) { q.set('step', String(set.done)); }
    const text = q.toString();
    if (text !== location.hash.slice(1)) { history.replaceState(null, '', text ? '#' + text : location.pathname); }
  }
  function fromFragment() {
    const q = new URLSearchParams(location.hash.slice(1));
    set = {
      plug: q.get('plug') || '', settings: {}, faults: q.getAll('failed').slice(0, mostFaults), isolated: q.get('supply') === 'isolated',
      earthed: q.getAll('earthed'), done: Math.max(0, Math.floor(Number(q.get('step')) || 0)),
    };
    for (const [key, value] of q) { if (key.startsWith('at:')) { set.settings[key.slice(3)] = value; } }
  }

  // ---- the state

  async function show() {
    const planned = typed.steps || [];
    set.done = Math.min(set.done, planned.length || set.done);
    /** @type {State|null} */
    let answer;
    try {
      answer = await askState({ ...set, steps: planned.slice(0, set.done) });
    } catch (e) {
      say(byId('now'), why(e) + ' The figures below are those of the state before.');
      return;
    }
    if (!answer) { return; }
    const first = shown === null;
    const before = shown;
    shown = answer;
    head(answer.head);
    if (!answer.cards) { return; }
    set = { ...answer.controls.set };
    if (first) { fetchKept(); begin(answer.head); }
    controls(answer.controls);
    cards(answer.cards);
    hands(answer.hands);
    toFragment();
    tellState(answer, before);
    if (seen.edition !== answer.head.edition) {
      seen.edition = answer.head.edition;
      later();
    }
  }

  /** What follows once for each edition of the file. */
  function later() {
    loadFindings();
    loadChecks();
    runPlan();
  }

  /** @param {Head} h */
  function begin(h) {
    if (typed.steps === null) { typed.steps = h.plan_steps; typed.name = typed.name || h.plan_name; }
    seen.plan = h.plan;
    byId('plan-name').value = typed.name;
    if (set.done && steps().length) { show(); }
  }

  /** @param {Head} h */
  function head(h) {
    say(byId('name'), h.name || 'The live bench');
    document.title = (h.name ? h.name + ': ' : '') + 'the live bench';
    say(byId('facts'), [h.file, ...h.facts].filter(Boolean).join(' · '));
    const box = byId('slips');
    box.hidden = !h.slips.length && !h.plan_slips.length;
    const parts = [];
    if (h.slips.length) {
      parts.push(el('p', {}, el('strong', { textContent: h.gone ? 'The set file is not there any more.' : 'The set file cannot be read as it stands.' }), ' Below is what it last held.'),
        el('ul', {}, ...h.slips.map((s) => el('li', { textContent: s }))));
    }
    if (h.plan_slips.length) {
      parts.push(el('p', {}, el('strong', { textContent: 'The plan file cannot be read as it stands.' }), ' The steps below are as they were.'),
        el('ul', {}, ...h.plan_slips.map((s) => el('li', { textContent: s }))));
    }
    box.replaceChildren(...parts);
    byId('plan-file').hidden = seen.plan < 0 || h.plan === seen.plan || !h.plan_steps.length;
  }

  let built = '';
  /** @param {Controls} c */
  function controls(c) {
    const shape = JSON.stringify([c.plugs, c.switches, c.faults, c.points, c.parts]);
    if (shape !== built) { built = shape; build(c); }
    for (const r of document.querySelectorAll('#form input[type=radio]')) {
      const radio = /** @type {HTMLInputElement} */ (r);
      const s = radio.dataset.switch;
      const at = s !== undefined ? set.settings[s] : radio.name === 'plug' ? set.plug : set.isolated ? 'isolated' : 'mains';
      radio.checked = at !== undefined ? radio.value === at : radio.dataset.first === '1';
    }
    document.querySelectorAll('select.fault').forEach((s, i) => { /** @type {any} */ (s).value = set.faults[i] || ''; });
    byId('clip').value = '';
    byId('clips').replaceChildren(...set.earthed.map((n) => el('li', {}, el('button', {
      type: 'button', onclick: () => { set.earthed = set.earthed.filter((x) => x !== n); show(); },
    }, 'Take the clip off ', name(n)))));
    const staged = byId('staged');
    staged.hidden = !set.done;
    say(staged, set.done ? 'The bench shows the set after step ' + set.done + ' of the plan.' : '');
    slider();
  }

  /** @param {Controls} c */
  function build(c) {
    byId('plugs').replaceChildren(...c.plugs.map((p) => el('label', {}, el('input', { type: 'radio', name: 'plug', value: p.value }), ' ', el('span', { textContent: p.label }))));
    byId('switches').replaceChildren(...c.switches.map((s, n) => el('fieldset', {}, el('legend', {}, name(s.label)), ...s.positions.map((p, i) => {
      const radio = el('input', { type: 'radio', name: 's' + n, value: p.value });
      radio.dataset.switch = s.name;
      radio.dataset.first = i === 0 ? '1' : '';
      return el('label', {}, radio, ' ', el('span', {}, name(p.label)));
    }))));
    document.querySelectorAll('select.fault').forEach((select) => {
      const options = [el('option', { value: '', textContent: 'nothing' })];
      let group = null;
      for (const f of c.faults) {
        if (!group || group.label !== f.group) { group = el('optgroup', { label: f.group }); options.push(group); }
        group.append(el('option', { value: f.value, textContent: f.label }));
      }
      select.replaceChildren(...options);
    });
    const points = c.points.map((p) => ({ value: p, label: p }));
    fill(byId('clip'), points, '', 'none, or one more');
    fill(byId('pick-part'), c.parts, byId('pick-part').value, 'pick a part');
    fill(byId('pick-node'), points, byId('pick-node').value, 'pick a point');
    fill(byId('pick-to'), points, byId('pick-to').value, 'none');
  }

  /** @param {Card[]} list */
  function cards(list) {
    const box = byId('metals');
    while (box.children.length > list.length) { box.lastChild.remove(); }
    list.forEach((c, i) => {
      let card = box.children[i];
      if (!card) {
        card = el('section', { className: 'card' }, el('h3', { id: 'metal' + i }), el('p', { className: 'depth' }), el('div', { className: 'read' }),
          el('div', { className: 'picture', tabIndex: 0, role: 'region' }), el('div', { className: 'ways' }));
        card.setAttribute('aria-labelledby', 'metal' + i);
        card.querySelector('.picture').addEventListener('click', (/** @type {Event} */ event) => pickCell(event, i));
        box.append(card);
      }
      card.dataset.band = c.band;
      card.querySelector('h3').replaceChildren(name(c.name));
      card.querySelector('.picture').setAttribute('aria-label', 'Drawing of the ways to ' + c.name);
      html(card.querySelector('.read'), c.figures);
      html(card.querySelector('.picture'), c.drawing);
      html(card.querySelector('.ways'), c.ways);
    });
    chooseDrawings();
    depths();
  }

  /** No letter is under 9 px: where a drawing from left to right would have such, the one from top to bottom is shown. */
  const least = 0.82;
  function chooseDrawings() {
    for (const picture of document.querySelectorAll('.picture')) {
      const drawings = [...picture.querySelectorAll('svg.draw')].map((d) => /** @type {SVGElement} */ (d));
      drawings.forEach((d) => { d.style.minWidth = Math.round(Number(d.getAttribute('width')) * least) + 'px'; });
      if (drawings.length && picture.clientWidth) { picture.classList.toggle('narrow', drawings.length > 1 && Number(drawings[0].getAttribute('width')) * least > picture.clientWidth - 2); }
    }
  }
  window.addEventListener('resize', chooseDrawings);

  /** What the program has escaped. It is set only where it differs: a drawing stays where it was scrolled to. */
  const texts = new WeakMap();
  /** @param {Element} at @param {string} text */
  function html(at, text) {
    if (texts.get(at) !== text) { texts.set(at, text); at.innerHTML = text; }
  }

  function depths() {
    const known = new Map(findings ? findings.depths.map((d) => [d.node, d.words]) : []);
    [...byId('metals').children].forEach((card, i) => {
      const c = shown && shown.cards && shown.cards[i];
      const words = c && known.get(c.points[0]);
      say(card.querySelector('.depth'), words && !set.done ? 'Safeguards as found: ' + words + '.' : '');
    });
  }

  /** What passes from hand to hand. @param {Hands[]} list */
  function hands(list) {
    byId('hands').hidden = !list.length;
    byId('hands-list').replaceChildren(...list.map((h) => el('li', {}, el('span', { className: 'verdict band' + h.band, textContent: h.head }), ' ', name(h.names), ': ' + h.body)));
  }

  /** One sentence: what changed. @param {State} now @param {State|null} before */
  function tellState(now, before) {
    const was = new Map((before && before.cards || []).map((c) => [c.name, c]));
    const said = (now.cards || []).map((c) => {
      const b = was.get(c.name);
      const from = b && b.body !== c.body ? ' (it was ' + b.body + ')' : '';
      return c.name + ': ' + c.body + ', ' + c.head.toLowerCase() + from;
    });
    const dropped = now.dropped.length ? ' Left out: ' + now.dropped.join('; ') + '.' : '';
    say(byId('now'), sentence(now.words).slice(0, -1) + ': ' + said.join('; ') + '.' + dropped);
  }

  // ---- findings

  async function loadFindings() {
    try {
      /** @type {Findings} */
      const answer = await ask('findings', {});
      if (answer.edition !== seen.edition) { return; }
      findings = answer;
    } catch (e) {
      say(byId('findings-say'), why(e));
      return;
    }
    html(byId('findings-list'), findings.html);
    say(byId('tally'), tallyWords(findings.tally));
    say(byId('findings-say'), findings.tried ? '' : 'The remedies are being tried on copies of the set …');
    byId('everyday').disabled = !findings.everyday;
    byId('onefailure').disabled = !findings.one_failure;
    depths();
  }
  byId('findings-list').addEventListener('click', (/** @type {any} */ event) => {
    const link = event.target.closest('a[href^="#"]');
    if (link) { // what stands behind # is the state
      event.preventDefault();
      const to = byId((link.getAttribute('href') || '').slice(1));
      for (let e = to; e; e = e.parentElement) { if (e.tagName === 'DETAILS') { e.open = true; } }
      if (to) { to.scrollIntoView(); to.querySelector('summary').focus({ preventScroll: true }); }
    }
    const n = event.target.dataset && event.target.dataset.plan;
    if (n !== undefined && findings) { addSteps(findings.plans[Number(n)].steps); byId('plan').scrollIntoView(); }
  });

  // ---- the plan

  const steps = () => typed.steps || (typed.steps = []);

  /** @param {Step[]} more */
  function addSteps(more) {
    steps().push(...more.map((s) => ({ text: s.text, why: s.why })));
    planChanged();
  }
  function planChanged() {
    if (set.done > steps().length) { set.done = steps().length; }
    keep();
    runPlan();
    if (set.done) { show(); }
  }

  /** @type {string[]} */
  let labels = [];
  async function runPlan() {
    drawSteps();
    byId('save-plan').disabled = !steps().length;
    if (!shown || !shown.cards) { return; }
    say(byId('plan-say'), steps().length ? 'Being worked out …' : 'No step yet: pick a part or a point, or take a plan from below.');
    /** @type {Does|null} */
    let answer;
    try {
      answer = await askPlan({ name: typed.name, steps: steps() });
    } catch (e) {
      say(byId('plan-say'), why(e));
      return;
    }
    if (!answer) { return; }
    labels = answer.labels;
    drawSteps(answer);
    planDoes(answer);
    offers();
  }

  /** @param {Does} [answer] */
  function drawSteps(answer) {
    const list = byId('steps');
    const focused = document.activeElement && list.contains(document.activeElement) ? document.activeElement.getAttribute('data-key') : null;
    const open = new Set([...list.querySelectorAll('details[open]')].map((d) => d.dataset.n));
    list.replaceChildren(...steps().map((s, n) => {
      const button = (/** @type {string} */ what, /** @type {string} */ label, /** @type {() => void} */ act, /** @type {boolean} */ off) => {
        const b = el('button', { type: 'button', disabled: off, onclick: act, textContent: label });
        b.setAttribute('aria-label', label + ', step ' + (n + 1));
        b.setAttribute('data-key', what + n);
        return b;
      };
      const area = el('textarea', { value: s.text, rows: s.text.split('\n').length + 1, spellcheck: false });
      area.setAttribute('aria-label', 'Step ' + (n + 1) + ' as the plan file has it');
      area.setAttribute('data-key', 'text' + n);
      area.addEventListener('change', () => { s.text = area.value; planChanged(); });
      const details = el('details', { open: open.has(String(n)) }, el('summary', { textContent: 'As the plan file has it' }), area);
      details.dataset.n = String(n);
      const words = answer && answer.stages[n];
      return el('li', { className: n < set.done ? 'done' : '' }, el('p', {}, name(labels[n] || s.text.split('\n').map((l) => l.split('=').pop()).join(' '))),
        s.why ? el('p', { className: 'hint', textContent: s.why }) : '',
        words ? el('p', { className: 'stand', textContent: 'After it, on the way: ' + words }) : '',
        el('p', { className: 'buttons' }, button('up', 'Earlier', () => swap(n, n - 1), n === 0), button('down', 'Later', () => swap(n, n + 1), n === steps().length - 1),
          button('out', 'Take out', () => { steps().splice(n, 1); planChanged(); }, false)), details);
    }));
    if (focused) {
      const again = list.querySelector('[data-key="' + focused + '"]:not(:disabled)') || list.querySelector('button:not(:disabled)') || byId('pick-part');
      again.focus();
    }
    slider();
  }
  /** @param {number} a @param {number} b */
  function swap(a, b) {
    const all = steps();
    [all[a], all[b]] = [all[b], all[a]];
    planChanged();
  }

  function slider() {
    const n = steps().length;
    byId('through').hidden = n === 0;
    byId('done').max = n;
    byId('done').value = set.done;
    say(byId('done-label'), set.done === 0 ? 'The bench shows the set as found' : set.done === n ? 'The bench shows the set with all of the plan done' : 'The bench shows the set after step ' + set.done + ' of ' + n);
    [...byId('steps').children].forEach((li, i) => { li.className = i < set.done ? 'done' : ''; });
  }
  byId('done').addEventListener('input', () => { set.done = Number(byId('done').value); slider(); show(); });

  /** @param {Does} a */
  function planDoes(a) {
    const box = byId('plan-does');
    if (a.wrong) {
      say(byId('plan-say'), 'The plan cannot be carried out: ' + a.wrong + '.');
      box.replaceChildren();
      return;
    }
    if (!a.labels.length) { say(byId('plan-say'), 'No step yet: pick a part or a point, or take a plan from below.'); box.replaceChildren(); return; }
    say(byId('plan-say'), 'Cured ' + a.cured.length + ', new ' + a.new.length + ', left ' + a.left.length + '. Before: ' + tallyWords(a.before) + '; after: ' + tallyWords(a.after) + '.');
    const parts = [];
    if (a.out) { parts.push(el('p', { className: 'whole' }, el('strong', { textContent: 'The plug stays out until step ' + a.out + ' is done: a stage before it is worse than the set was.' }))); }
    if (a.cut_off) { parts.push(el('p', { className: 'whole' }, el('strong', { textContent: 'In the end the set is off the line, where nothing is told of it: nothing counts as cured for that.' }))); }
    if (a.unlooked) { parts.push(el('p', { className: 'whole', textContent: 'Not looked at: ' + a.unlooked + '.' })); }
    box.replaceChildren(...parts, items('Cured', a.cured), items('New', a.new), items('Left', a.left));
  }
  /** @param {string} title @param {Item[]} list */
  function items(title, list) {
    return el('div', {}, el('h3', { textContent: title + ': ' + (list.length || 'nothing') }), el('ul', {}, ...list.map((i) => el('li', {},
      el('strong', { className: 'signal ' + i.signal.toLowerCase(), textContent: i.signal }), ' ', name(i.message), i.how ? ' (' + i.how + ')' : ''))));
  }

  async function offers() {
    const part = byId('pick-part').value, node = byId('pick-node').value, to = byId('pick-to').value;
    const list = byId('offers');
    mark(part);
    if (!part && !node) { list.replaceChildren(); return; }
    /** @type {{offers: {label: string, steps: Step[]}[], say: string}|null} */
    let answer;
    try {
      answer = await askOffers({ part, node: part ? '' : node, to, steps: steps() });
    } catch (e) {
      list.replaceChildren(el('li', { textContent: why(e) }));
      return;
    }
    if (!answer) { return; }
    list.replaceChildren(...answer.offers.map((o) => el('li', {}, el('button', { type: 'button', onclick: () => addSteps(o.steps) }, name(o.label)))));
    if (answer.say) { list.append(el('li', {}, name(sentence(answer.say)))); }
  }
  byId('pick-part').addEventListener('change', () => { byId('pick-node').value = ''; byId('pick-to').value = ''; offers(); });
  byId('pick-node').addEventListener('change', () => { byId('pick-part').value = ''; offers(); });
  byId('pick-to').addEventListener('change', offers);

  /** A part of a drawing. @param {any} event @param {number} card */
  function pickCell(event, card) {
    const cell = event.target.closest('.cell');
    const drawn = shown && shown.cards;
    if (!cell || !drawn) { return; }
    const parts = String(cell.dataset.e || '').split(' ').flatMap((n) => drawn[card].branches[Number(n)] || []);
    if (!parts.length) { return; }
    const now = byId('pick-part').value;
    const next = parts[(parts.indexOf(now) + 1) % parts.length];
    byId('pick-part').value = next;
    byId('pick-node').value = '';
    byId('pick-to').value = '';
    say(byId('plan-say'), next + ' is picked: what can be done with it stands at the plan.');
    offers();
  }
  /** Marks a part wherever it is drawn. @param {string} part */
  function mark(part) {
    const drawn = shown && shown.cards;
    if (!drawn) { return; }
    [...byId('metals').children].forEach((card, i) => {
      card.querySelectorAll('.cell').forEach((/** @type {HTMLElement} */ cell) => {
        const parts = String(cell.dataset.e || '').split(' ').flatMap((n) => drawn[i].branches[Number(n)] || []);
        cell.classList.toggle('picked', part !== '' && parts.includes(part));
      });
    });
  }

  byId('plan-name').addEventListener('input', () => { typed.name = byId('plan-name').value; keep(); });
  byId('take-plan').addEventListener('click', () => {
    if (!shown) { return; }
    typed.steps = shown.head.plan_steps.map((s) => ({ ...s }));
    typed.name = shown.head.plan_name;
    byId('plan-name').value = typed.name;
    seen.plan = shown.head.plan;
    byId('plan-file').hidden = true;
    planChanged();
  });

  /**
   * Saves, and asks before another file is replaced.
   * @param {string} what
   * @param {any} body
   * @param {any} at where it is told
   */
  async function save(what, body, at) {
    try {
      let answer = await ask(what, body);
      if (answer.there) {
        if (!confirm(answer.file + ' is there already, of ' + answer.changed + '. Replace it?')) {
          say(at, 'Not saved: ' + answer.file + ' stays as it is.');
          return;
        }
        answer = await ask(what, { ...body, replace: answer.there });
      }
      say(at, answer.there ? 'Not saved: ' + answer.file + ' was changed meanwhile. Save again to be asked again.' : 'Saved as ' + answer.file + '.' + (answer.left_out ? ' ' + answer.left_out : ''));
    } catch (e) {
      say(at, 'Not saved. ' + why(e));
    }
  }
  byId('save-plan').addEventListener('click', () => save('save-plan', { name: typed.name, steps: steps() }, byId('plan-saved')));
  byId('save-readings').addEventListener('click', () => save('save-readings', { typed: typedReadings() }, byId('readings-saved')));

  // ---- readings

  async function loadChecks() {
    try {
      const answer = await ask('checks', {});
      if (answer.edition !== seen.edition) { return; }
      checks = answer;
    } catch (e) {
      say(byId('account'), why(e));
      return;
    }
    drawChecks();
    judge();
  }

  /** What is said of a check, and its fields: heaters side by side are one check in several lines. @type {Map<string, {said: any, field: any}[]>} */
  const judgedAt = new Map();
  /** @param {string} id */
  const placesOf = (id) => judgedAt.get(id) || [];
  function drawChecks() {
    const box = byId('checks');
    if (!checks) { return; }
    const open = new Set([...box.querySelectorAll('details[open]')].map((d) => d.dataset.key));
    judgedAt.clear();
    box.replaceChildren(...checks.sections.map((s) => {
      const rows = s.checks.map((c, n) => {
        const judged = el('p', { className: 'hint' });
        if (c.bar) { return el('div', { className: 'check' }, el('p', {}, name(c.where)), el('p', {}, el('strong', { className: 'bar', textContent: c.bar }))); }
        const field = el('input', { type: 'text', inputMode: 'text', value: typed.readings[c.id] || '', autocomplete: 'off', id: s.key + n, maxLength: 40 });
        field.setAttribute('aria-label', c.where + ', ' + c.unit);
        field.addEventListener('input', () => {
          if (field.value.trim()) { typed.readings[c.id] = field.value; } else { delete typed.readings[c.id]; }
          placesOf(c.id).forEach((x) => { if (x.field !== field) { x.field.value = field.value; } });
          keep();
          judgeSoon();
        });
        judgedAt.set(c.id, [...placesOf(c.id), { said: judged, field }]);
        return el('div', { className: 'check' }, el('p', {}, name(c.where)), el('p', { textContent: 'right: ' + c.expect }), el('p', {}, field, ' ', c.unit), judged);
      });
      const details = el('details', { open: open.has(s.key) || s.checks.some((c) => typed.readings[c.id]) || s.key === 'cold' }, el('summary', {}, el('strong', { textContent: s.title }), ' ' + s.about), ...(s.warn ? [el('p', {}, el('strong', { textContent: s.warn }))] : []), ...rows);
      details.dataset.key = s.key;
      return details;
    }));
  }
  const typedReadings = () => Object.entries(typed.readings).map(([id, text]) => ({ id, text }));

  let soon = 0;
  function judgeSoon() {
    clearTimeout(soon);
    soon = setTimeout(judge, 150);
  }
  async function judge() {
    const all = typedReadings();
    byId('save-readings').disabled = !all.length;
    if (!all.length) { judgedAt.forEach((list) => list.forEach((x) => { x.said.className = 'hint'; say(x.said, ''); })); byId('account').replaceChildren(); return; }
    const own = ++judging;
    try {
      told(await ask('readings', { typed: all, explain: false }), own);
      account(await ask('readings', { typed: all, explain: true }), own);
    } catch (e) {
      if (own === judging) { byId('account').replaceChildren(el('p', { textContent: why(e) })); }
    }
  }
  let judging = 0;
  /** @param {Readings} answer @param {number} own */
  function told(answer, own) {
    if (own !== judging) { return; }
    const by = new Map(answer.judged.map((j) => [j.id, j]));
    judgedAt.forEach((list, id) => list.forEach((x) => {
      const j = by.get(id);
      x.said.className = j ? 'judged' + (j.verdict === 'right' ? '' : ' off') : 'hint';
      say(x.said, j ? j.words : '');
    }));
  }
  /** @param {Readings} answer @param {number} own */
  function account(answer, own) {
    const a = answer.account;
    if (own !== judging || !a) { return; }
    const parts = [el('p', {}, el('strong', { textContent: a.say }))];
    if (a.explained.length) {
      parts.push(el('ol', {}, ...a.explained.map((x) => el('li', {}, name(x.words), ' (' + x.fits + ')'))));
    }
    if (a.next) { parts.push(el('p', {}, el('strong', { textContent: 'To take next: ' }), a.next)); }
    byId('account').replaceChildren(...parts);
  }

  // ---- plans found

  byId('propose').addEventListener('click', async () => {
    const button = byId('propose');
    button.disabled = true;
    say(byId('proposals-say'), 'Altered sets are being examined; this may take a minute …');
    try {
      /** @type {{found: string, beyond: string[], plans: Proposal[], judge: string}} */
      const answer = await ask('proposals', {});
      say(byId('proposals-say'), answer.found);
      byId('proposals-list').replaceChildren(...answer.beyond.map((b) => el('p', {}, 'Nothing of the list cures: ', name(b))),
        ...answer.plans.map((p, n) => el('section', { className: 'card' }, el('h3', { textContent: (n + 1) + '. ' + p.kind }),
          el('p', { textContent: 'Once carried out: ' + tallyWords(p.after) + '.' }), el('ol', {}, ...p.labels.map((l, i) => el('li', {}, name(l), p.steps[i].why ? el('span', { className: 'hint', textContent: ' ' + p.steps[i].why }) : ''))),
          el('p', {}, el('button', {
            type: 'button', onclick: () => {
              typed.steps = p.steps.map((s) => ({ ...s }));
              typed.name = p.name;
              byId('plan-name').value = p.name;
              set.done = 0;
              planChanged();
              show();
              byId('plan').scrollIntoView();
              byId('done').focus({ preventScroll: true });
            },
          }, 'Step through plan ' + (n + 1))))),
        ...(answer.plans.length ? [el('p', { className: 'hint', textContent: answer.judge })] : []));
    } catch (e) {
      say(byId('proposals-say'), why(e));
    }
    button.disabled = false;
  });

  // ---- what is set by hand

  byId('form').addEventListener('submit', (/** @type {Event} */ event) => event.preventDefault());
  byId('form').addEventListener('change', (/** @type {any} */ event) => {
    const t = event.target;
    if (t.dataset.switch !== undefined) { set.settings[t.dataset.switch] = t.value; }
    else if (t.name === 'plug') { set.plug = t.value; }
    else if (t.name === 'supply') { set.isolated = t.value === 'isolated'; }
    else if (t.id === 'clip') { if (t.value && !set.earthed.includes(t.value)) { set.earthed = [...set.earthed, t.value]; } }
    else if (t.classList.contains('fault')) {
      set.faults = [...document.querySelectorAll('select.fault')].map((s) => /** @type {any} */ (s).value).filter((v, i, all) => v && all.indexOf(v) === i);
    }
    show();
  });
  byId('reset').addEventListener('click', () => { set = { ...set, plug: '', settings: {}, faults: [], isolated: false, earthed: [], done: 0 }; show(); });
  /** @param {any} to */
  const stand = (to) => { if (to) { set = { ...set, ...to, isolated: false, earthed: [], done: 0 }; show(); byId('now').scrollIntoView({ block: 'nearest' }); } };
  byId('everyday').addEventListener('click', () => stand(findings && findings.everyday));
  byId('onefailure').addEventListener('click', () => stand(findings && findings.one_failure));
  document.querySelectorAll('a[data-jump]').forEach((a) => a.addEventListener('click', (event) => {
    event.preventDefault(); // what stands behind # is the state
    const to = document.querySelector(/** @type {string} */ (a.getAttribute('href')));
    if (to) { to.scrollIntoView(); /** @type {any} */ (to).tabIndex = -1; /** @type {any} */ (to).focus({ preventScroll: true }); }
  }));
  window.addEventListener('hashchange', () => { fromFragment(); show(); });

  // ---- the stream

  /** @type {EventSource|null} */
  let stream = null;
  let closed = false;
  let retry = 0;
  function away() {
    say(byId('line'), closed ? 'The bench was closed at its terminal. What was typed stays in this page; start it again there, and open the address that it shows.'
      : 'The bench does not answer: its terminal may be closed, or the machine was asleep. What was typed stays in this page; it is tried again.');
  }
  function listen() {
    clearTimeout(retry);
    if (stream) { stream.close(); }
    const own = new EventSource('events');
    stream = own;
    own.onmessage = (message) => {
      const e = JSON.parse(message.data);
      if (e.kind === 'closing') { closed = true; own.close(); away(); retry = setTimeout(listen, 2000); return; }
      closed = false;
      say(byId('line'), '');
      if (e.kind === 'hello' || e.kind === 'file') {
        if (e.edition !== seen.edition || (shown && e.plan !== shown.head.plan)) { show(); }
      }
      if (e.kind === 'remedies' || e.kind === 'hello' && findings && !findings.tried) { loadFindings(); }
      if (e.pages > 1) { say(byId('line'), e.pages + ' pages are open on this bench. Each has its own state and plan; what one saves, the other is asked about before it replaces it.'); }
    };
    own.onerror = () => {
      away();
      own.close();
      retry = setTimeout(listen, 2000);
    };
  }

  fromFragment();
  show().then(listen);
})();
