'use strict';
(function () {
  document.documentElement.classList.remove('still');

  // Long tables are folded on a screen, and whole on paper.
  var folds = Array.prototype.slice.call(document.querySelectorAll('details.long'));
  var unfolded = [];
  folds.forEach(function (d) { d.open = false; });
  window.addEventListener('beforeprint', function () {
    unfolded = folds.filter(function (d) { return d.open; });
    folds.forEach(function (d) { d.open = true; });
  });
  window.addEventListener('afterprint', function () {
    folds.forEach(function (d) { d.open = unfolded.indexOf(d) >= 0; });
  });

  // What a drawing hides to the right is told where it hides it.
  function tellWide() {
    document.querySelectorAll('.picture + .wide').forEach(function (hint) {
      var picture = hint.previousElementSibling;
      hint.hidden = picture.scrollWidth <= picture.clientWidth;
    });
  }
  window.addEventListener('resize', tellWide);
  window.addEventListener('load', tellWide);

  document.querySelectorAll('article.set').forEach(function (set) {
    var table = JSON.parse(set.querySelector('script.table').textContent);
    var form = set.querySelector('form.controls');
    var choose = form.querySelector('select');
    var cards = Array.prototype.slice.call(set.querySelectorAll('[data-metal]'));
    var steps = Array.prototype.slice.call(set.querySelectorAll('.steps li'));
    var strip = set.querySelector('.strip');
    var now = set.querySelector('.now');
    var step = -1;

    function radios(name) { return form.querySelectorAll('input[name="' + set.id + '-' + name + '"]'); }
    function chosen(name) {
      var list = radios(name);
      for (var i = 0; i < list.length; i++) { if (list[i].checked) { return list[i]; } }
      return list[0];
    }
    function pick(name, value) {
      radios(name).forEach(function (r) { r.checked = r.value === String(value); });
    }

    // Where the bench stands: the number of a case, of a plug polarity, of a switch combination.
    function place() {
      var wrong = chosen('wrong').value;
      var combo = 0;
      table.sizes.forEach(function (size, i) { combo = combo * size + Number(chosen('c' + i).value); });
      return { fault: Number(wrong === 'part' ? choose.value : wrong), way: Number(chosen('plug').value), combo: combo };
    }
    function stand(at) {
      pick('plug', at.way);
      var combo = at.combo;
      for (var i = table.sizes.length - 1; i >= 0; i--) {
        pick('c' + i, combo % table.sizes[i]);
        combo = Math.floor(combo / table.sizes[i]);
      }
      pick('wrong', at.fault);
      if (!form.querySelector('input[name="' + set.id + '-wrong"]:checked')) {
        pick('wrong', 'part');
        choose.value = String(at.fault);
      }
      show();
    }

    function cell(g, edges) {
      var list = g.dataset.e.split(' ').map(function (i) { return edges[Number(i)]; });
      var has = function (c) { return list.indexOf(c) >= 0; };
      var state = 'rest', word = '';
      if (has('o')) { state = 'o'; word = g.dataset.open; }
      else if (has('X')) { state = 'X'; word = g.dataset.broken; }
      else if (has('x')) { state = 'x'; word = g.dataset.broken; }
      else if (list.every(function (c) { return c === 'c'; })) { state = 'c'; }
      else if (has('c') || has('w')) { state = 'w'; }
      g.setAttribute('class', 'cell s' + state);
      g.querySelector('.st').textContent = word;
    }

    function fill(card, metal, at) {
      var e = metal.entries[metal.rows[(at.fault * 2 + at.way) * table.combos + at.combo]];
      var band = Math.floor(e[2] / 2);
      card.dataset.band = band;
      card.querySelector('.meter').textContent = e[0];
      card.querySelector('.body').textContent = e[1];
      var verdict = card.querySelector('.verdict');
      verdict.className = 'verdict band' + band;
      verdict.textContent = table.heads[band];
      card.querySelector('.why').textContent = table.verdicts[e[2]];
      card.querySelector('.note').textContent = e[3];
      card.querySelector('.at.ac').setAttribute('transform', 'translate(' + e[4] + ' 0)');
      var dc = card.querySelector('.at.dc');
      dc.setAttribute('transform', 'translate(' + e[5] + ' 0)');
      dc.setAttribute('class', 'at dc' + (e[5] < 0 ? ' none' : ''));
      card.querySelectorAll('.draw .cell').forEach(function (g) { cell(g, e[6]); });
      card.querySelectorAll('.routes li').forEach(function (li, i) {
        var state = e[7][i];
        li.className = 'r' + (state === '!' ? 'x' : state);
        li.querySelector('.how').textContent = table.routes[state];
      });
      card.querySelectorAll('.earth').forEach(function (g) {
        g.setAttribute('class', 'earth' + (e[8][Number(g.dataset.earth)] === '1' ? ' on' : ''));
      });
      card.querySelectorAll('.hand').forEach(function (g) {
        g.setAttribute('class', 'hand band' + band);
        g.querySelector('.mA').textContent = e[1];
      });
      card.querySelectorAll('.blade').forEach(function (g) {
        var side = table.blades[at.way][Number(g.dataset.blade)];
        var gone = table.lost[at.fault];
        if (gone === 2 ? side !== 'HOT' : gone === Number(g.dataset.blade)) { side = 'not connected'; }
        g.querySelector('.side').textContent = side;
      });
      return card.querySelector('h3').textContent + ': ' + e[1] + ', ' + table.heads[band].toLowerCase();
    }

    function label(input) {
      var span = input.parentNode.querySelector('span');
      return span.firstChild.textContent;
    }
    function show() {
      var at = place();
      var words = [label(chosen('plug'))];
      table.sizes.forEach(function (_, i) {
        var input = chosen('c' + i);
        words.push(input.closest('fieldset').querySelector('legend').textContent + ' ' + label(input));
      });
      var wrong = chosen('wrong');
      if (wrong.value === 'part') { words.push(choose.options[choose.selectedIndex].textContent); }
      else if (wrong.value !== '0') { words.push(label(wrong)); }
      else { words.push('nothing wrong'); }
      var said = cards.map(function (card, i) { return fill(card, table.metals[i], at); });
      now.textContent = words.join(', ') + '. ' + said.join('; ') + '.';
    }

    function walk(n) {
      step = n;
      var li = steps[n];
      var button = li.querySelector('button');
      steps.forEach(function (s, i) {
        if (i === n) { s.setAttribute('aria-current', 'step'); } else { s.removeAttribute('aria-current'); }
      });
      stand({ fault: Number(button.dataset.fault), way: Number(button.dataset.way), combo: Number(button.dataset.combo) });
      strip.hidden = false;
      strip.querySelector('.striptext').textContent = 'Step ' + (n + 1) + ' of ' + steps.length + '. ' + li.querySelector('.say').textContent;
      strip.querySelector('.back').disabled = n === 0;
      strip.querySelector('.next').disabled = n === steps.length - 1;
    }
    steps.forEach(function (li, i) {
      li.querySelector('button').addEventListener('click', function () {
        walk(i);
        var bench = set.querySelector('.bench');
        if (bench.getBoundingClientRect().top > window.innerHeight / 2) { strip.scrollIntoView({ block: 'start' }); }
      });
    });
    strip.querySelector('.back').addEventListener('click', function () { if (step > 0) { walk(step - 1); } });
    strip.querySelector('.next').addEventListener('click', function () { if (step + 1 < steps.length) { walk(step + 1); } });

    function moved() {
      step = -1;
      strip.hidden = true;
      steps.forEach(function (s) { s.removeAttribute('aria-current'); });
      show();
    }
    form.addEventListener('submit', function (event) { event.preventDefault(); });
    form.addEventListener('change', function (event) {
      if (event.target === choose) { pick('wrong', 'part'); }
      moved();
    });
    show();
  });
})();
