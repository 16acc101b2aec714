"use strict";
(function () {
  var slider = document.getElementById("price");
  var cells = document.querySelectorAll("#at-price td");
  var unit = document.getElementById("at-price").dataset.unit;
  function show() {
    var price = Number(slider.value);
    document.getElementById("price-shown").textContent = price.toFixed(2) + " " + unit;
    cells.forEach(function (cell) {
      var saving = Number(cell.dataset.saved) * price + Number(cell.dataset.other);
      if (cell.dataset.what === "saving") {
        cell.textContent = saving.toFixed(2) + " " + cell.dataset.currency;
      } else {
        cell.textContent = saving > 0 ? (Number(cell.dataset.cost) / saving).toFixed(1) + " years" : "never";
      }
    });
  }
  slider.addEventListener("input", show);
})();
