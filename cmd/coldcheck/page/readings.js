// The fields of a checklist: what is typed is judged at once, kept in the browser for that set where the browser
// keeps anything for a file, and given out as a set file has it. What is right stands in the page: nothing of the
// set is worked out here.
(function () {
  /**
   * @typedef {{q: string, l: number, h: number, lo?: string, hi?: string, t?: string, ti?: string, to?: string}} Field
   * @typedef {{unit: string, sample: string, words: string[], scale: number, most: number, open: string[], shows: number, signed: boolean}} Spelling
   * @typedef {{of: string, head: string, tied: string, fields: Field[], spellings: Object<string, Spelling>,
   *   prefixes: Object<string, number>, spelt: Object<string, number>}} Data
   * @typedef {{value: number, error?: string}} Figure
   */
  document.documentElement.classList.remove('still');

  // A figure as a person types it: 47, 4.7k, 4k7, .47 meg, 118 V, open. What is not sure to be meant so is not read.
  /** @type {(typed: string, s: Spelling, d: Data) => Figure} */
  function figure(typed, s, d) {
    var text = typed.trim();
    if (s.open.indexOf(text.toLowerCase()) >= 0) { return { value: s.shows }; }
    var none = { value: NaN, error: 'not read: write what the meter showed, like ' + s.sample };
    var m = /^([-−]?)\s*\+?(\d+\.?\d*|\.\d+)(e[+-]?\d+)?(\D*)$/i.exec(text);
    var infix = /^([-−]?)\s*\+?(\d+)([kKMRGpnuµμm])(\d+)(\D*)$/.exec(text);
    var number = NaN, scale = NaN, bare = false;
    if (infix) {
      number = Number(infix[2] + '.' + infix[4]);
      var behind = infix[5].trim().toLowerCase();
      if (!behind || s.words.indexOf(behind) >= 0) { scale = infix[3] !== 'R' ? d.prefixes[infix[3]] : s.words.indexOf('r') >= 0 ? 1 : NaN; }
    } else if (m) {
      var suffix = m[4].replace(/\s+/g, '');
      bare = suffix === '';
      number = Number(m[2] + (m[3] || ''));
      scale = scaleOf(suffix, s, d);
    }
    if (isNaN(number * scale)) { return none; }
    var value = number * scale * ((infix || m || [])[1] ? -1 : 1) * (bare ? 1 : s.scale);
    if (Math.abs(value) > s.most) { return { value: NaN, error: 'beyond belief; write what the meter showed' }; }
    if (value < 0 && !s.signed) { return { value: NaN, error: 'negative; only DC volts may be' }; }
    return { value: value };
  }
  /** @type {(suffix: string, s: Spelling, d: Data) => number} */
  function scaleOf(suffix, s, d) {
    var scale = NaN, lower = suffix.toLowerCase();
    s.words.concat('').forEach(function (word) {
      if (!isNaN(scale) || lower.slice(lower.length - word.length) !== word) { return; }
      var prefix = suffix.slice(0, suffix.length - word.length), spelt = prefix.toLowerCase();
      if (Object.prototype.hasOwnProperty.call(d.prefixes, prefix)) { scale = d.prefixes[prefix]; }
      else if (Object.prototype.hasOwnProperty.call(d.spelt, spelt)) { scale = d.spelt[spelt]; }
    });
    return scale;
  }
  var alone = 'nothing that fails alone makes it so';
  /** @type {(f: Field, value: number, s: Spelling) => string} */
  function judge(f, value, s) {
    if (value < f.l) { return 'Low: ' + (f.lo || alone); }
    if (value > f.h && !(s.shows && value >= s.shows && f.h >= s.shows)) { return 'High: ' + (f.hi || alone); }
    return 'Right';
  }

  /** @type {(selector: string, within: ParentNode) => HTMLElement} */
  function one(selector, within) {
    var found = within.querySelector(selector);
    if (!found) { throw new Error('no ' + selector); }
    return /** @type {HTMLElement} */ (found);
  }
  /** @type {(key: string, value?: string) => string} */
  function kept(key, value) {
    try {
      if (value) { localStorage.setItem(key, value); } else if (value === '') { localStorage.removeItem(key); }
      return localStorage.getItem(key) || '';
    } catch (_) { return ''; } // the browser keeps nothing for a file
  }

  document.querySelectorAll('script.fields').forEach(function (script) {
    var data = /** @type {Data} */ (JSON.parse(script.textContent || ''));
    var checklist = /** @type {HTMLElement} */ (script.closest('.checklist'));
    var panel = one('.readings', checklist), given = one('.given', panel);
    var text = /** @type {HTMLTextAreaElement} */ (one('textarea', panel));
    var key = 'coldcheck readings of ' + data.of;
    /** @type {{name: string, field: Field, cold: boolean, input: HTMLInputElement, out: HTMLElement}[]} */
    var all = [];
    /** @type {Object<string, string>} */
    var typed = {};
    try { typed = JSON.parse(kept(key) || '{}') || {}; } catch (_) { typed = {}; }

    checklist.querySelectorAll('.write[data-f]').forEach(function (blank) {
      var f = data.fields[Number(blank.getAttribute('data-f'))], s = data.spellings[f.q];
      var box = document.createElement('span'), input = document.createElement('input'), out = document.createElement('output');
      box.className = 'field';
      input.type = 'text';
      input.maxLength = 40;
      input.autocomplete = 'off';
      input.spellcheck = false;
      input.setAttribute('aria-label', nameOf(blank, f) + ', ' + s.unit);
      box.append(input, ' ' + s.unit, out);
      var cold = f.q === 'ohms', name = (f.t || f.ti || '') + f.q;
      input.value = typeof typed[name] === 'string' ? typed[name] : '';
      input.addEventListener('input', function () {
        if (input.value.trim()) { typed[name] = input.value; } else { delete typed[name]; }
        all.forEach(function (x) { if (x.name === name && x.input !== input) { x.input.value = input.value; } }); // heaters side by side
        kept(key, Object.keys(typed).length ? JSON.stringify(typed) : '');
        show();
      });
      blank.replaceWith(box);
      all.push({ name: name, field: f, cold: cold, input: input, out: out });
    });

    // What a field is of: what stands in its row before it, and over its column.
    /** @type {(blank: Element, f: Field) => string} */
    function nameOf(blank, f) {
      var words = [];
      for (var e = (/** @type {Element} */ (blank.closest('td'))).previousElementSibling; e; e = e.previousElementSibling) {
        if (!e.querySelector('.write, .field')) { words.unshift((e.textContent || '').trim()); }
      }
      return words.filter(Boolean).join(', ') + (f.to ? ', at ' + f.to : '');
    }

    function show() {
      var read = 0, off = 0, left = 0, tables = '', remarks = '';
      /** @type {Object<string, boolean>} */
      var told = {};
      all.forEach(function (x) {
        var s = data.spellings[x.field.q], got = x.input.value.trim() ? figure(x.input.value, s, data) : null;
        var says = !got ? '' : got.error || judge(x.field, got.value, s);
        if (x.out.textContent !== says) { x.out.textContent = says; }
        x.out.className = says === 'Right' ? 'right' : 'off';
        if (told[x.name]) { return; }
        told[x.name] = true;
        if (x.cold && (!got || got.error)) { left++; }
        if (!got || got.error) { return; }
        read++;
        if (says !== 'Right') { off++; }
        var line = String(Number(got.value.toPrecision(12)));
        if (x.field.t) { tables += '\n[[readings]]\n' + x.field.t + '\n' + x.field.q + ' = ' + line + '\n'; } else { remarks += '# ' + x.field.ti + ': ' + line + ' ' + s.unit + '\n'; }
      });
      given.hidden = !read;
      text.value = data.head + (remarks ? data.tied + remarks : '') + tables;
      var words = read ? read + ' of ' + Object.keys(told).length + ' figures read, ' + (off ? off + ' of them not right. MAKE NO HOT CHECK until that is found: no one knows what is live. With these at the end of the set file, coldcheck checklist says what would explain them together.' : 'all of those right.')
        : 'Nothing yet. What is typed in is judged at once, and stays in this browser where it keeps anything for a file.';
      if (read && !off && left) { words += ' ' + left + (left === 1 ? ' cold figure is' : ' cold figures are') + ' still to be read; no hot check before.'; }
      var count = one('.count', panel);
      if (count.textContent !== words) { count.textContent = words; }
    }
    one('.copy', panel).addEventListener('click', function () {
      var done = function () { one('.copied', panel).textContent = 'Copied.'; };
      var byHand = function () { text.focus(); text.select(); one('.copied', panel).textContent = 'It is marked: copy it from there.'; };
      if (navigator.clipboard) { navigator.clipboard.writeText(text.value).then(done, byHand); } else { byHand(); }
    });
    one('.forget', panel).addEventListener('click', function () {
      typed = {};
      kept(key, '');
      all.forEach(function (x) { x.input.value = ''; });
      show();
      all[0].input.focus();
    });
    show();
  });
})();
