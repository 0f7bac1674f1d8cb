package browsertest

// Drawings is a script that tells what is wrong with the drawings that are shown: text that is clipped or too small, text on text,
// a line through text, a line that joins another without a dot, and a hand that is out of view.
const Drawings = `(function () {
  var wrong = [];
  document.querySelectorAll('.picture').forEach(function (picture) {
    if (!picture.clientWidth) { return; }
    var frame = picture.getBoundingClientRect();
    picture.querySelectorAll('.draw').forEach(function (svg) {
      if (!svg.getBoundingClientRect().width) { return; }
      var box = svg.getBoundingClientRect();
      var texts = Array.prototype.filter.call(svg.querySelectorAll('text'), function (x) {
        return x.textContent.trim() && x.checkVisibility() && x.getBoundingClientRect().width;
      });
      var places = texts.map(function (x) { return x.getBoundingClientRect(); });
      var hand = svg.querySelector('.hand use') && svg.querySelector('.hand use').getBoundingClientRect();
      var own = svg.querySelector('[data-hand].l3, [data-hand].l2, [data-hand].l1');
      if (own && (own.getBoundingClientRect().right < frame.left || own.getBoundingClientRect().left > frame.right)) { wrong.push('the hand of the line side is out of view'); }
      if (hand && hand.left < frame.left - 1 || hand && hand.right > frame.right + 1) { wrong.push('the hand stands at ' + hand.left + ' of ' + frame.right); }
      var lines = [], ends = [];
      var dots = Array.prototype.filter.call(svg.querySelectorAll('circle'), function (c) { return c.getBoundingClientRect().width; })
        .map(function (c) { return [c.cx.baseVal.value, c.cy.baseVal.value]; });
      svg.querySelectorAll('.lead').forEach(function (lead) {
        if (!lead.getBoundingClientRect().width && !lead.getBoundingClientRect().height) { return; }
        var x = 0, y = 0;
        lead.getAttribute('d').replace(/M([\d.-]+) ([\d.-]+)|H([\d.-]+)|V([\d.-]+)/g, function (_, a, b, h, v) {
          var from = [x, y];
          x = Number(a || h || x);
          y = Number(b || v || y);
          ends.push([x, y, lead]);
          if (a === undefined) { lines.push({ left: Math.min(from[0], x), right: Math.max(from[0], x), top: Math.min(from[1], y), bottom: Math.max(from[1], y), lead: lead }); }
        });
      });
      ends.forEach(function (e) { // a line that ends or turns on another is joined to it
        var on = lines.some(function (l) {
          return l.lead !== e[2] && (l.left === l.right ? Math.abs(l.left - e[0]) < .5 && l.top < e[1] - 1 && l.bottom > e[1] + 1
            : Math.abs(l.top - e[1]) < .5 && l.left < e[0] - 1 && l.right > e[0] + 1);
        });
        if (on && !dots.some(function (d) { return Math.abs(d[0] - e[0]) < 2 && Math.abs(d[1] - e[1]) < 2; })) { wrong.push('no dot at ' + e[0] + ' ' + e[1]); }
      });
      var scale = box.width / svg.viewBox.baseVal.width;
      texts.forEach(function (x, i) {
        var p = places[i], name = x.firstChild.textContent;
        if (parseFloat(getComputedStyle(x).fontSize) * scale < 8.95) { wrong.push(name + ' is ' + parseFloat(getComputedStyle(x).fontSize) * scale + ' px'); }
        if (p.left < box.left - 1 || p.right > box.right + 1 || p.top < box.top - 1 || p.bottom > box.bottom + 1) { wrong.push(name + ' is clipped'); }
        var own = x.getBBox(); // letters take less than the height of their line
        var left = own.x + 1, right = own.x + own.width - 1, top = own.y + 3, bottom = own.y + own.height - 3.5;
        if (lines.some(function (l) { return l.left < right && l.right > left && l.top < bottom && l.bottom > top; })) { wrong.push('a line runs through ' + name); }
        for (var k = 0; k < i; k++) {
          var q = places[k];
          if (p.left < q.right - 2 && q.left < p.right - 2 && p.top < q.bottom - 4 && q.top < p.bottom - 4) { wrong.push(name + ' stands on ' + texts[k].firstChild.textContent); }
        }
      });
    });
  });
  return wrong;
})()`
