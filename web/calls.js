// Part of the engine's script: calls with texts. The page and the tests use these alone.
Module["call"] = function (name) {
  var texts = [];
  var values = [];
  for (var i = 1; i < arguments.length; ++i) {
    var value = arguments[i];
    if (typeof value === "string") {
      var size = lengthBytesUTF8(value) + 1;
      var at = _malloc(size);
      stringToUTF8(value, at, size);
      texts.push(at);
      value = at;
    }
    values.push(value);
  }
  try {
    return Module["_hitchwright_" + name].apply(null, values);
  } finally {
    texts.forEach(function (at) { _free(at); });
  }
};
// The same where the answer is a text.
Module["ask"] = function () {
  return UTF8ToString(Module["call"].apply(null, arguments));
};
// A command of the command line: {"arguments": [...], "files": {...}} (web/engine.h).
Module["answer"] = function (request) {
  return JSON.parse(Module["ask"]("answer", JSON.stringify(request)));
};
