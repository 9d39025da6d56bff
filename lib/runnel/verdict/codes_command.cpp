// Codes about the command line.
#include "runnel/verdict/codes.h"

namespace runnel::verdict {

std::vector<Code> command_codes() {
  return {
      {"unknown-command", "no such command", "The first word is none of the commands.", "Nothing was done.",
       "`runnel --help` lists them.", ""},
      {"unknown-option", "no such option", "The command does not know the option.",
       "It would have been left out in silence.", "`runnel COMMAND --help` lists them.", ""},
      {"usage", "the command line cannot be read",
       "Words are missing, or too many, or not allowed where they stand.", "Nothing was done.",
       "`runnel COMMAND --help` shows how the command is used.", ""},
      {"bad-option-value", "the value of an option cannot be used",
       "The text behind the option is not what it needs.", "It cannot be guessed.",
       "Write it as the hint shows, with its unit.", ""},
      {"cover-taken", "how deep the outlet lies was assumed",
       "`quick` was not told how far the outlet of the box lies under its water, and took 0.3 m, or a tenth "
       "of the drop if that is less.",
       "A high point between the outlet and the water passes only by that depth.", "Give it with `--cover`.",
       "our own choice"},
      {"no-year", "no year in the model", "`fill --year` was run on a model without `year:`.",
       "There is nothing to weigh.", "Add yields of boxes and demands of tanks, 12 or 52 flows each.", ""},
      {"no-tanks", "no tanks in the model", "The command is about tanks, and the model has none.",
       "There is nothing to fill or to empty.", "Add the tank, or run `runnel flow`.", ""},
      {"no-such-washout", "no such washout", "`fill --drain` names no washout of the model.",
       "It is not known what should be emptied.", "Take one of the names in the hint.", ""},
      {"size-alone", "a size without a kind of pipe",
       "`--pipe` was given a nominal size alone. Pipes of one size differ in bore from one kind and one "
       "rating to the"
       " next.",
       "Another bore carries another flow: a few millimetres decide.",
       "Take one of the pipes listed, or write the bore: `bore 26 mm`.", ""},
      {"several-pipes", "several pipes have that name",
       "What was written fits more than one pipe of the catalogue.", "They differ in bore or in rating.",
       "Write as much of the name as tells one of them.", ""},
      {"file-exists", "the file is there already", "The name given for a new file is taken.",
       "What stands in that file may be somebody's work.", "Give another name, or move that file away.", ""},
      {"unknown-code", "no such word", "No finding, source, key, part, unit or term has that name.",
       "There is nothing to explain.",
       "`runnel explain` lists the findings, `runnel explain --terms` the words of the trade.", ""},
      {"names-side-files", "a model that names other files cannot be written elsewhere",
       "The model reads a survey or a price list from a file beside it, which is looked for in the folder of "
       "the"
       " model.",
       "Written into another folder the new model would not find those files.",
       "Write it beside the model, or put the values into the model itself.", ""},
      {"unknown-setting", "no such setting", "The command asked for a setting that the model does not name.",
       "Settings are named ways of running the system; `normal` is the system as drawn.",
       "Look under `settings:` in the model, or leave `--setting` out.", ""},
  };
}

}  // namespace runnel::verdict
