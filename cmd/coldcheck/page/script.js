'use strict';
// The page's own script: it looks up rows of the table in each bench and shows them. Nothing is computed
// here but which row; nothing is kept outside.
(function () {
  /**
   * @typedef {{rows: number[], entries: number[][], ways?: Object<string, number[][]>}} Metal
   * @typedef {{combos: number, sizes: number[], heads: string[], verdicts: string[], routes: Object<string, string>,
   *   blades: string[][], lost: Object<string, number>, metals: Metal[], line?: Metal}} Stage
   * @typedef {{stages: Stage[], words: string[], controls?: {of: number, at: number[]}[][], faults?: number[][]}} Table
   * @typedef {{fault: number, way: number, at: number[]}} Place
   */
  var root = document.documentElement;
    root.classList.remove('still');
  root.classList.add('opening'); // until all answers, only what is near the screen is laid out

  /** @type {(selector: string, within?: ParentNode) => HTMLElement[]} */
  function all(selector, within) {
    return Array.prototype.slice.call((within || document).querySelectorAll(selector));
  }
  /** @type {(selector: string, within: ParentNode) => HTMLElement} */
  function one(selector, within) {
    var found = within.querySelector(selector);
    if (!found) { throw new Error('no ' + selector); }
    return /** @type {HTMLElement} */ (found);
  }
  /** @type {(e: Element, name: string, on: boolean) => void} */
  function mark(e, name, on) { e.classList.toggle(name, on); }

  // What is long is folded on a screen, and whole on paper.
  var folds = /** @type {HTMLDetailsElement[]} */ (all('details.long'));
  /** @type {HTMLDetailsElement[]} */
  var unfolded = [];
  folds.forEach(function (d) { d.open = false; });
  window.addEventListener('beforeprint', function () {
    unfolded = folds.filter(function (d) { return d.open; });
    folds.forEach(function (d) { d.open = true; });
  });
  window.addEventListener('afterprint', function () {
    folds.forEach(function (d) { d.open = unfolded.indexOf(d) >= 0; });
  });
  // A link to what is folded unfolds it.
  /** @type {(id: string) => void} */
  function unfoldTo(id) {
    var target = id && document.getElementById(id);
    if (!target) { return; }
    var inner = target.querySelector('details.fold');
    if (inner && target.tagName === 'SECTION') { /** @type {HTMLDetailsElement} */ (inner).open = true; }
    for (var e = /** @type {Element|null} */ (target); e; e = e.parentElement) {
      if (e.tagName === 'DETAILS') { /** @type {HTMLDetailsElement} */ (e).open = true; }
    }
    target.scrollIntoView();
  }
  document.addEventListener('click', function (event) {
    var a = event.target instanceof Element && event.target.closest('a[href^="#"]');
    if (a) {
      var id = (a.getAttribute('href') || '').slice(1);
      window.setTimeout(function () { unfoldTo(id); }, 0);
    }
  });

  window.addEventListener('resize', function () {
    rooms.clear();
    chooseDrawings();
  });
  window.addEventListener('load', function () {
    chooseDrawings();
    window.setTimeout(function () { root.classList.remove('opening'); }, 0);
  });

  // The state of every bench stands in the fragment, so that a link or a bookmark opens it.
  /** @type {{read: (p: URLSearchParams) => boolean, write: (p: URLSearchParams) => void, reset: () => void}[]} */
  var benches = [];
  var written = '', waiting = 0;
  // Several changes at once, as arrows make them, are one in the history.
  function writeSoon() {
    window.clearTimeout(waiting);
    waiting = window.setTimeout(writeState, 250);
  }
  function writeState() {
    var p = new URLSearchParams();
    benches.forEach(function (b) { b.write(p); });
    var text = '#' + p.toString();
    if (text !== location.hash) { written = text; location.hash = text; }
  }
  function readState() {
    if (location.hash === '' && written) {
      written = '';
      benches.forEach(function (b) { b.reset(); });
    }
    if (location.hash === written || location.hash.indexOf('.plug=') < 0) { return; }
    written = location.hash;
    var p = new URLSearchParams(location.hash.slice(1));
    benches.forEach(function (b) { b.read(p); });
  }
  window.addEventListener('hashchange', readState);

  /** @type {(g: Element, entry: any[]) => boolean} */
  function showCell(g, entry) {
    var list = /** @type {HTMLElement} */ (/** @type {unknown} */ (g)).dataset;
    var level = 0, state = '', word = '', of = (list.e || '').split(' '), open = 0;
    of.forEach(function (i) {
      var s = entry[6][Number(i)];
      level = Math.max(level, Number(entry[7][Number(i)]));
      if (s === 'o') { state = ' so'; open++; word = (open < of.length && of.length > 1 ? open + ' of ' + of.length + ' ' : '') + (list.open || 'open'); }
      else if (s === 'x' && !state) { state = ' sx'; word = list.broken || 'shorted'; }
    });
    var seldom = g.classList.contains('seldom');
    g.setAttribute('class', 'cell l' + level + state + (seldom ? ' seldom' + (level ? ' on' : '') : ''));
    one('.st', g).textContent = word;
    var use = one('.sy', g);
    if (!use.dataset.s) { use.dataset.s = (use.getAttribute('href') || '').slice(5); }
    use.setAttribute('href', '#sym-' + (state !== ' so' ? use.dataset.s : use.dataset.s === 'switch' ? 'switch-open' : 'gap'));
    return !seldom || level > 0;
  }

  /** @type {(svg: Element, entry: any[], stage: Stage, at: Place, fault: number) => void} */
  function showDrawing(svg, entry, stage, at, fault) {
    var shown = all('.cell', svg).map(function (g) { return showCell(g, entry); });
    all('[data-cells]', svg).forEach(function (g) {
      mark(g, 'off', !(g.dataset.cells || '').split(' ').some(function (i) { return shown[Number(i)]; }));
    });
    all('[data-n]', svg).forEach(function (g) {
      var kind = g.classList.contains('metal') ? 'metal' : 'w';
      g.setAttribute('class', kind + ' p' + (entry[10][Number(g.dataset.n)] || 'l'));
    });
    all('.earth', svg).forEach(function (g) { mark(g, 'on', entry[9][Number(g.dataset.earth)] === '1'); });
    all('.hand', svg).forEach(function (g) {
      g.setAttribute('class', 'hand band' + Math.floor(entry[2] / 2));
      one('.mA', g).textContent = entry[1];
    });
    all('.blade', svg).forEach(function (g) {
      var blade = Number(g.dataset.blade), side = stage.blades[at.way][blade], gone = stage.lost[fault];
      if (gone === 2 ? side !== 'HOT' : gone === blade) { side = 'not connected'; }
      one('.side', g).textContent = side;
      g.setAttribute('class', 'blade l' + entry[7].charAt(entry[7].length - 2 + blade)); // the last two are the blades
    });
    foldDrawing(/** @type {HTMLElement} */ (svg));
  }

  // What nothing shows while scripts are off is made here: where a part's state is told, below its other
  // words, and the hatch of lines.
  all('.draw .cell').forEach(function (g) {
    if (g.querySelector('.st')) { return; }
    var words = all('text:not([class])', g), name = g.querySelector('.nm'), last = words[words.length - 1] || name;
    var state = document.createElementNS(g.namespaceURI, 'text');
    var tall = !!g.closest('.tall'), below = tall ? 12 : words.length ? 13 : 57;
    if (last) {
      state.setAttribute('x', last.getAttribute('x') || '0');
      state.setAttribute('y', String(Number(last.getAttribute('y')) + below));
    }
    state.setAttribute('class', 'st');
    g.appendChild(state);
  });
  all('.draw .w').forEach(function (g) {
    var lead = one('.lead', g);
    if (lead.previousElementSibling) { return; }
    var halo = /** @type {Element} */ (lead.cloneNode(false));
    halo.setAttribute('class', 'halo');
    g.insertBefore(halo, lead);
  });

  // Rows of a drawing of which nothing is shown fold, and so does what is empty along them. How everything
  // stood before is kept.
  var gap = 14;
  /** @type {Map<Element, {attribute: string, was: string, is: string}[]>} */
  var stood = new Map();
  /** @type {(svg: HTMLElement) => (v: number) => number} */
  function foldAcross(svg) {
    var rows = (svg.dataset.rows || '').split(' ').map(Number);
    /** @type {boolean[]} */
    var has = [];
    /** @type {boolean[]} */
    var used = [];
    all('[data-row]', svg).forEach(function (g) { // of cells, and of blades, which are always there
      var y = Number(g.dataset.row), k = 0;
      while (k + 2 < rows.length && y >= rows[k + 1]) { k++; }
      has[k] = true;
      if (!g.classList.contains('seldom') || g.classList.contains('on')) { used[k] = true; }
    });
    return function (v) {
      var to = v;
      for (var k = 0; k + 1 < rows.length; k++) {
        if (has[k] && !used[k]) { to -= Math.min(Math.max(v - rows[k], 0), rows[k + 1] - rows[k]); }
      }
      return Math.round(to * 10) / 10;
    };
  }
  /** @type {(svg: HTMLElement, bar: number) => (v: number) => number} */
  function foldAlong(svg, bar) {
    var spans = all('[data-span]', svg).filter(function (g) {
      return !(g.classList.contains('seldom') && !g.classList.contains('on')) && !g.classList.contains('off');
    }).map(function (g) { return (g.dataset.span || '').split(' ').map(Number); });
    spans.push([bar, bar]);
    spans.sort(function (a, b) { return a[0] - b[0]; });
    /** @type {number[][]} */
    var empty = [];
    var end = spans[0][0];
    spans.forEach(function (s) {
      if (s[0] - end > gap) { empty.push([end + gap / 2, s[0] - gap / 2]); }
      end = Math.max(end, s[1]);
    });
    return function (v) {
      var to = v;
      empty.forEach(function (e) { to -= Math.min(Math.max(v - e[0], 0), e[1] - e[0]); });
      return Math.round(to * 10) / 10;
    };
  }
  /** @type {(e: Element, x: (v: number) => number, y: (v: number) => number) => void} */
  function move(e, x, y) {
    var kept = stood.get(e);
    if (!kept) {
      kept = ['d', 'transform', 'x', 'y', 'cx', 'cy'].filter(function (a) { return e.hasAttribute(a); })
        .map(function (a) {
          var was = e.getAttribute(a) || '';
          return { attribute: a, was: was, is: was };
        });
      stood.set(e, kept);
    }
    var middle = e.tagName === 'rect' ? [Number(e.getAttribute('width')) / 2, Number(e.getAttribute('height')) / 2] : [0, 0];
    kept.forEach(function (k) {
      var to = k.was;
      if (k.attribute === 'd') {
        to = to.replace(/M([\d.-]+) ([\d.-]+)|H([\d.-]+)|V([\d.-]+)/g, function (_, a, b, h, v) {
          return a !== undefined ? 'M' + x(Number(a)) + ' ' + y(Number(b)) : h !== undefined ? 'H' + x(Number(h)) : 'V' + y(Number(v));
        });
      } else if (k.attribute === 'transform') {
        to = to.replace(/translate\(([\d.-]+) ([\d.-]+)\)/, function (_, a, b) { return 'translate(' + x(Number(a)) + ' ' + y(Number(b)) + ')'; });
      } else if (k.attribute === 'x' || k.attribute === 'cx') {
        to = String(x(Number(to) + middle[0]) - middle[0]);
      } else { to = String(y(Number(to) + middle[1]) - middle[1]); }
      if (to !== k.is) { e.setAttribute(k.attribute, to); }
      k.is = to;
    });
  }
  // Whether something stays where it is beside the metal, and of words, whose they are.
  /** @type {Map<Element, {fixed: boolean, cell: HTMLElement|null}>} */
  var owners = new Map();
  /** @type {(e: Element) => {fixed: boolean, cell: HTMLElement|null}} */
  function ownerOf(e) {
    var of = owners.get(e);
    if (!of) {
      of = { fixed: !!e.closest('.hand, .earth, .metal, [data-fixed]'), cell: e.tagName === 'text' ? e.closest('.cell[data-row]') : null };
      owners.set(e, of);
    }
    return of;
  }
  /** @type {(svg: HTMLElement) => void} */
  function foldDrawing(svg) {
    var tall = svg.classList.contains('tall'), metal = one('.metal', svg), bar = Number(metal.dataset.bar);
    var across = foldAcross(svg), along = foldAlong(svg, bar), shift = along(bar) - bar;
    /** @type {(v: number) => number} */
    var rigid = function (v) { return v + shift; };
    var row = Number(metal.dataset.y), down = across(row) - row;
    /** @type {(v: number) => number} */
    var still = function (v) { return v + down; };
    all('path, use[transform], g[transform], text, circle, rect', svg).forEach(function (e) {
      var of = ownerOf(e), fixed = of.fixed, cell = of.cell;
      var at = cell ? Number(cell.dataset.row) : 0, by = across(at) - at;
      // Words keep their distance from their symbol, those too that reach into the next row.
      var a = fixed ? rigid : along, b = fixed ? still : cell ? function (/** @type {number} */ v) { return v + by; } : across;
      move(e, tall ? b : a, tall ? a : b);
    });
    var spare = tall ? 16 : 12, from = Number(metal.getAttribute(tall ? 'x' : 'y'));
    metal.setAttribute(tall ? 'width' : 'height', String(Math.max(across(Number(metal.dataset.low)), still(Number(metal.dataset.end))) + spare - from));
    if (!svg.dataset.box) { svg.dataset.box = svg.getAttribute('viewBox') || ''; }
    var box = svg.dataset.box.split(' ').map(Number), wide = tall ? 2 : 3, far = tall ? 3 : 2;
    box[wide] = Math.max(across(box[wide]), still(Number(svg.dataset.least)));
    box[far] = rigid(box[far]);
    svg.setAttribute('viewBox', box.join(' '));
    svg.setAttribute('width', String(box[2]));
    svg.setAttribute('height', String(box[3]));
    svg.style.minWidth = Math.round(box[2] * least) + 'px';
  }
  // What a drawing has from side to side, by its card, for what is far from the screen is laid out only when
  // somebody comes there. It rests on the window alone, and measuring has the page laid out.
  /** @type {Map<Element, number>} */
  var rooms = new Map();
  /** @type {(picture: Element) => number} */
  function roomOf(picture) {
    var card = /** @type {HTMLElement} */ (picture.parentElement), room = rooms.get(picture) || 0;
    if (!room && card.clientWidth) {
      var style = window.getComputedStyle(card);
      room = card.clientWidth - parseFloat(style.paddingLeft) - parseFloat(style.paddingRight) - 2;
      rooms.set(picture, room);
    }
    return room;
  }
  // No letter is under 9 px: where a drawing from left to right would have such, the one from top to bottom
  // is shown; and what a drawing hides to the right is told where it hides it.
  var least = 0.82;
  function chooseDrawings() {
    if (document.readyState !== 'complete') { return; } // it is done once then, and what answers first has not to wait for it
    // All are measured before any is changed, for a change between would have the page laid out for each.
    all('.card > .picture').map(function (picture) {
      return { picture: picture, room: roomOf(picture) };
    }).map(function (p) {
      var wide = p.picture.querySelector('.draw'), tall = p.picture.querySelector('.tall'), hint = p.picture.nextElementSibling;
      if (!wide || !p.room) { return null; }
      var narrow = !!tall && Number(wide.getAttribute('width')) * least > p.room;
      if (narrow && tall) { showLate(tall); }
      mark(p.picture, 'narrow', narrow);
      var over = Number((narrow && tall || wide).getAttribute('width')) * least > p.room + 1;
      if (hint instanceof HTMLElement && hint.classList.contains('wide')) { hint.hidden = !over; }
      return over || p.room < 640 ? p.picture : null;
    }).forEach(function (picture) { if (picture) { toBring.add(picture); } });
    if (!asked) { asked = window.requestAnimationFrame(bringHands); }
  }
  // The pictures in which a hand may be out of view. They are measured with the next frame, for which all is laid out.
  /** @type {Set<Element>} */
  var toBring = new Set();
  var asked = 0;
  function bringHands() {
    asked = 0;
    Array.from(toBring, handOutside).forEach(function (out) {
      if (out && out.right) { out.picture.scrollLeft += out.right; }
      if (out && out.down) { out.picture.scrollTop += out.down; }
    });
    toBring.clear();
  }
  // Where the line side is larger than its box, the hand that it is about is brought into view: how far it is outside.
  /** @type {(picture: Element) => {picture: Element, right: number, down: number}|null} */
  function handOutside(picture) {
    var hand = picture.querySelector('[data-hand].l3, [data-hand].l2, [data-hand].l1');
    if (!hand) { return null; }
    var frame = picture.getBoundingClientRect(), there = hand.getBoundingClientRect();
    return {
      picture: picture,
      right: there.left < frame.left || there.right > frame.right ? (there.left + there.right - frame.left - frame.right) / 2 : 0,
      down: there.top < frame.top || there.bottom > frame.bottom ? (there.top + there.bottom - frame.top - frame.bottom) / 2 : 0
    };
  }

  // A drawing from top to bottom waits until it is seen: on a wide screen none is.
  /** @type {Map<Element, () => void>} */
  var late = new Map();
  /** @type {(card: Element, fill: (svg: Element) => void) => void} */
  function showDrawings(card, fill) {
    all('.draw', card).forEach(function (svg) {
      if (svg.classList.contains('tall')) { late.set(svg, function () { fill(svg); }); } else { fill(svg); }
    });
  }
  /** @type {(svg: Element) => void} */
  function showLate(svg) {
    var fill = late.get(svg);
    late.delete(svg);
    if (fill) { fill(); }
  }

  /** @type {(card: HTMLElement, entry: any[], stage: Stage, at: Place, fault: number) => string} */
  function fill(card, entry, stage, at, fault) {
    var band = Math.floor(entry[2] / 2);
    card.dataset.band = String(band);
    one('.meter', card).textContent = entry[0];
    one('.body', card).textContent = entry[1];
    var verdict = one('.verdict', card);
    verdict.className = 'verdict band' + band;
    verdict.textContent = stage.heads[band];
    one('.why', card).textContent = stage.verdicts[entry[2]];
    one('.note', card).textContent = entry[3];
    one('.at.ac', card).setAttribute('transform', 'translate(' + entry[4] + ' 0)');
    var dc = one('.at.dc', card);
    dc.setAttribute('transform', 'translate(' + entry[5] + ' 0)');
    dc.setAttribute('class', 'at dc' + (entry[5] < 0 ? ' none' : ''));
    showDrawings(card, function (svg) { showDrawing(svg, entry, stage, at, fault); });
    all('.routes li', card).forEach(function (li, i) {
      var state = entry[8][i];
      li.className = 'r' + (state === '!' ? 'x' : state) + (li.classList.contains('rare') ? ' rare' : '');
      one('.how', li).textContent = stage.routes[state];
    });
    return one('h3', card).textContent + ': ' + entry[1] + ', ' + stage.heads[band].toLowerCase();
  }

  // States as letters, their runs spread out again: "0C" stands for "000".
  /** @type {(packed: string) => string} */
  function spread(packed) {
    return packed.replace(/(.)([A-Z])/g, function (_, letter, n) { return letter.repeat(n.charCodeAt(0) - 64); });
  }

    all('[data-bench]').forEach(function (bench) {
    var table = /** @type {Table} */ (JSON.parse(one('script.table', bench).textContent || ''));
    // An entry of the table with its words.
    /** @type {(metal: Metal, row: number) => any[]} */
    function entryOf(metal, row) {
      return metal.entries[metal.rows[row]].map(function (n, k) { return k === 2 || k === 4 || k === 5 ? n : k < 6 ? table.words[n] : spread(table.words[n]); });
    }
    var id = bench.dataset.bench || '';
    var form = /** @type {HTMLFormElement} */ (one('form.controls', bench));
    var choose = /** @type {HTMLSelectElement|null} */ (form.querySelector('select'));
    var scope = bench.closest('article') || document;
    var sets = all('.stageset', bench);
    var cards = sets.map(function (s) { return all('[data-metal]', s); });
    // Ways that few states tell stand in the table: what they have in common, once.
    cards.forEach(function (list, n) {
      list.forEach(function (card, i) {
        var metal = table.stages[n].metals[i], ways = metal.ways || {};
        all('.routes li', card).forEach(function (li, k) {
          if (li.firstChild || !ways[k]) { return; }
          var words = ways[k].map(function (w) { return w.map(function (x) { return table.words[x]; }); });
          [['how', ''], ['way', words[0].join(' › ')], ['bar', words[1].join(', ')]].forEach(function (w) {
            var span = document.createElement('span');
            span.className = w[0];
            span.textContent = w[1];
            li.append(span, ' ');
          });
        });
      });
    });
    var steps = all('.steps li', scope);
    var strip = one('.strip', bench);
    var now = one('.now', bench), said = one('.said', bench);
    var slider = /** @type {HTMLInputElement|null} */ (scope.querySelector('input.stage'));
    var compared = all('[data-compare]', scope);
    var step = -1, asking = false, room = false, first = true;
    /** @type {string[]} */
    var before = [];
    /** @type {string} */
    var moved = '';

    /** @type {(name: string) => HTMLInputElement[]} */
    function radios(name) { return /** @type {HTMLInputElement[]} */ (all('input[type=radio]', form)).filter(function (r) { return r.name === id + '-' + name; }); }
    /** @type {(name: string) => HTMLInputElement} */
    function chosen(name) {
      var list = radios(name);
      return list.filter(function (r) { return r.checked; })[0] || list[0];
    }
    /** @type {(name: string, value: number|string) => boolean} */
    function pick(name, value) {
      var list = radios(name).filter(function (r) { return r.value === String(value); });
      list.forEach(function (r) { r.checked = true; });
      return list.length > 0;
    }
    /** @type {(input: HTMLInputElement) => string} */
    function label(input) { return one('.lab0', /** @type {HTMLElement} */ (input.parentNode)).textContent || ''; }
    var controls = 0;
    while (radios('c' + controls).length) { controls++; }

    // Where the bench stands.
    /** @type {() => Place} */
    function place() {
      var wrong = chosen('wrong').value, at = [];
      for (var i = 0; i < controls; i++) { at.push(Number(chosen('c' + i).value)); }
      return { fault: Number(wrong === 'part' && choose ? choose.value : wrong), way: Number(chosen('plug').value), at: at };
    }
    /** @type {(fault: number) => void} */
    function pickFault(fault) {
      if (!pick('wrong', fault) && choose) {
        pick('wrong', 'part');
        choose.value = String(fault);
      }
    }
    // Where a stage has that: the number of its row, and of its fault; -1 for a fault that it does not have.
    /** @type {(n: number, at: Place) => {row: number, fault: number}} */
    function rowOf(n, at) {
      var stage = table.stages[n], combo = 0;
      stage.sizes.forEach(function (size, k) {
        var c = table.controls ? table.controls[n][k] : null;
        combo = combo * size + Math.max(0, c ? c.at[at.at[c.of]] : at.at[k]);
      });
      var fault = table.faults ? table.faults[n][at.fault] : at.fault;
      return { row: (Math.max(0, fault) * 2 + at.way) * stage.combos + combo, fault: fault };
    }
    /** @type {(fault: number, way: number, combo: number) => void} */
    function stand(fault, way, combo) {
      pick('plug', way);
      var sizes = table.stages[0].sizes;
      for (var i = sizes.length - 1; i >= 0; i--) {
        pick('c' + i, combo % sizes[i]);
        combo = Math.floor(combo / sizes[i]);
      }
      pickFault(fault);
      show();
    }
    function stageShown() { return slider ? Number(slider.value) : 0; }

    function faultWords() {
      var wrong = chosen('wrong');
      if (wrong.value === 'part' && choose) { return choose.options[choose.selectedIndex].textContent || ''; }
      return wrong.value === '0' ? 'nothing wrong' : label(wrong);
    }
    function stateWords() {
      var words = [label(chosen('plug'))];
      for (var i = 0; i < controls; i++) {
        words.push(one('legend', /** @type {HTMLElement} */ (chosen('c' + i).closest('fieldset'))).textContent + ' ' + label(chosen('c' + i)));
      }
      words.push(faultWords());
      return words.join(', ');
    }

    function show() {
      var at = place(), n = stageShown(), stage = table.stages[n], r = rowOf(n, at);
      sets.forEach(function (s, i) { s.hidden = i !== n; });
      var stands = rowOf(0, at).row, combos = table.stages[0].combos;
      all('.jumps button', bench).forEach(function (b) {
        b.setAttribute('aria-pressed', String(stands === (Number(b.dataset.fault) * 2 + Number(b.dataset.way)) * combos + Number(b.dataset.combo)));
      });
      var told = cards[n].map(function (card, i) {
        var metal = stage.metals[i];
        return fill(card, entryOf(metal, r.row), stage, at, Math.max(0, r.fault));
      });
      all('.card.line .draw', sets[n]).forEach(function (svg) {
        if (!stage.line) { return; }
        showDrawing(svg, entryOf(stage.line, r.row), stage, at, Math.max(0, r.fault));
        all('[data-hand]', svg).forEach(function (g) {
          var metal = stage.metals[Number(g.dataset.hand)];
          one('.st', g).textContent = entryOf(metal, r.row)[1];
        });
      });
      now.textContent = stateWords() + '. ' + (r.fault < 0 ? 'That part is not in the set at this stage. ' : '') + told.join('; ') + '.';
      compared.forEach(function (cell) {
        var of = (cell.dataset.compare || '').split(' '), s = of[0] === 'now' ? n : Number(of[0]);
        var k = of[0] === 'now' ? (cell.dataset.metals || '').split(' ').map(Number)[n] : Number(of[1]);
        var metal = k >= 0 ? table.stages[s].metals[k] : null;
        var e = metal && entryOf(metal, rowOf(s, at).row);
        cell.textContent = e ? e[1] + ', ' + table.stages[s].heads[Math.floor(e[2] / 2)].toLowerCase() : 'not there';
      });
      announce(told);
      chooseDrawings();
    }
    // One sentence about what changed.
    /** @type {(told: string[]) => void} */
    function announce(told) {
      var changed = told.filter(function (t, i) { return t !== before[i]; });
      if (!first) { said.textContent = (moved || stateWords()) + ': ' + (changed.length ? changed.join('; ') : 'no figure changed') + '.'; }
      before = told;
      moved = '';
      if (!first) { writeSoon(); }
      first = false;
    }

    /** @type {(n: number, ask: boolean) => void} */
    function walk(n, ask) {
      var li = steps[n], button = one('button', li);
      step = n;
      asking = ask;
      steps.forEach(function (s, i) {
        if (i === n) { s.setAttribute('aria-current', 'step'); } else { s.removeAttribute('aria-current'); }
      });
      mark(root, 'asking', ask);
      strip.hidden = false;
      one('.striptext', strip).textContent = 'Step ' + (n + 1) + ' of ' + steps.length + '. ' + one('.do', li).textContent + (ask ? '' : ' ' + one('.then', li).textContent);
      one('.think', strip).hidden = !ask;
      /** @type {HTMLButtonElement} */ (one('.back', strip)).disabled = n === 0 && (!room || ask);
      /** @type {HTMLButtonElement} */ (one('.next', strip)).disabled = n === steps.length - 1 && !ask;
      one('.next', strip).textContent = ask ? 'Show it' : 'Next step';
      stand(Number(button.dataset.fault), Number(button.dataset.way), Number(button.dataset.combo));
    }
    function forth() {
      if (asking) { walk(step, false); } else if (step + 1 < steps.length) { walk(step + 1, room); }
    }
    function back() {
      if (room && step >= 0 && !asking) { walk(step, true); } else if (step > 0) { walk(step - 1, false); }
    }
    steps.forEach(function (li, i) {
      one('button', li).addEventListener('click', function () {
        walk(i, false);
        if (bench.getBoundingClientRect().top > window.innerHeight / 2 || strip.getBoundingClientRect().bottom < 0) { strip.scrollIntoView({ block: 'start' }); }
      });
    });
    one('.back', strip).addEventListener('click', back);
    one('.next', strip).addEventListener('click', forth);

    // For a room: the bench alone and large, each step asked before it is answered.
    var toggle = /** @type {HTMLButtonElement|null} */ (scope.querySelector('button.room'));
    /** @type {(on: boolean) => void} */
    function setRoom(on) {
      room = on;
      mark(root, 'inroom', on);
      mark(/** @type {Element} */ (scope), 'shown', on);
      rooms.clear();
      one('.leave', strip).hidden = !on;
      if (toggle) { toggle.setAttribute('aria-pressed', String(on)); }
      if (on) {
        walk(Math.max(0, step), true);
        window.scrollTo(0, 0);
        strip.focus();
      } else {
        asking = false;
        mark(root, 'asking', false);
        chooseDrawings();
        if (toggle) { toggle.focus(); }
      }
    }
    if (toggle) { toggle.addEventListener('click', function () { setRoom(!room); }); }
    one('.leave', strip).addEventListener('click', function () { setRoom(false); });
    document.addEventListener('keydown', function (event) {
      var inField = event.target instanceof Element && event.target.closest('input, select, textarea');
      if (!room || inField || event.altKey || event.ctrlKey || event.metaKey) { return; }
      if (event.key === 'ArrowRight') { forth(); event.preventDefault(); }
      if (event.key === 'ArrowLeft') { back(); event.preventDefault(); }
      if (event.key === 'Escape') { setRoom(false); }
    });

    function leaveLesson() {
      step = -1;
      asking = false;
      mark(root, 'asking', false);
      if (!room) { strip.hidden = true; }
      steps.forEach(function (s) { s.removeAttribute('aria-current'); });
    }
    form.addEventListener('submit', function (event) { event.preventDefault(); });
    form.addEventListener('change', function (event) {
      var input = /** @type {HTMLInputElement} */ (event.target);
      if (/** @type {unknown} */ (input) === choose) { pick('wrong', 'part'); }
      var legend = input.closest('fieldset');
      moved = legend ? one('legend', legend).textContent + ': ' + (input.type === 'radio' && input.value !== 'part' ? label(input) : faultWords()) : '';
      leaveLesson();
      show();
    });
    all('.jumps button', bench).forEach(function (b) {
      b.addEventListener('click', function () {
        leaveLesson();
        moved = b.textContent || '';
        stand(Number(b.dataset.fault), Number(b.dataset.way), Number(b.dataset.combo));
      });
    });
    if (slider) {
      slider.addEventListener('input', function () {
        moved = stageName();
        show();
        markPlan();
      });
      all('button[data-go]', scope).forEach(function (b) {
        b.addEventListener('click', function () {
          /** @type {HTMLInputElement} */ (slider).value = b.dataset.go || '0';
          moved = stageName();
          show();
          markPlan();
        });
      });
    }
    function stageName() {
      var names = slider ? (slider.dataset.names || '').split('\n') : [];
      return slider ? names[Number(slider.value)] || '' : '';
    }
    function markPlan() {
      if (!slider) { return; }
      var done = Number((slider.dataset.done || '').split(' ')[Number(slider.value)]);
      slider.setAttribute('aria-valuetext', stageName());
      one('.stagenow', scope).textContent = stageName();
      all('.plan li', scope).forEach(function (li, i) {
        mark(li, 'done', i < done);
        if (i === done - 1) { li.setAttribute('aria-current', 'step'); } else { li.removeAttribute('aria-current'); }
      });
    }

    benches.push({
      reset: function () {
        form.reset();
        if (slider) { slider.value = '0'; markPlan(); }
        first = true;
        leaveLesson();
        show();
      },
      write: function (p) {
        p.set(id + '.plug', chosen('plug').value);
        for (var i = 0; i < controls; i++) { p.set(id + '.c' + i, label(chosen('c' + i))); }
        if (place().fault) { p.set(id + '.wrong', faultWords()); }
        if (step >= 0) { p.set(id + '.step', String(step + 1)); }
        if (slider) { p.set(id + '.stage', slider.value); }
      },
      read: function (p) {
        if (!p.has(id + '.plug')) { return false; }
        pick('plug', p.get(id + '.plug') || '0');
        for (var i = 0; i < controls; i++) {
          radios('c' + i).forEach(function (r) { if (label(r) === p.get(id + '.c' + i)) { r.checked = true; } });
        }
        var wrong = p.get(id + '.wrong');
        pickFault(0);
        radios('wrong').forEach(function (r) { if (wrong && label(r) === wrong) { r.checked = true; } });
        if (choose && wrong) {
          Array.prototype.forEach.call(choose.options, function (o) { if (o.textContent === wrong) { pickFault(Number(o.value)); } });
        }
        if (slider && p.has(id + '.stage')) { slider.value = p.get(id + '.stage') || '0'; markPlan(); }
        var n = Number(p.get(id + '.step')) - 1;
        first = true; // what a link opens is no change
        if (steps[n]) { walk(n, false); } else { leaveLesson(); show(); }
        return true;
      }
    });
        show();
    markPlan();
  });
    readState();
})();
