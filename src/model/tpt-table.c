#include "config.h"

#include "tpt-table.h"

#include <glib/gi18n-lib.h>

static const char *const sensitivities[] = { "none", "low", "medium", "high", "extreme", NULL };
static const char *const kinds[] = { "camera", "trigger", "flash", "pack", "card", "housing", "other", NULL };
static const char *const sensors[] = { "active-beam", "passive-infrared", NULL };
static const char *const chemistries[] = { "alkaline", "nimh", "lithium", "li-ion", "lead-acid", NULL };
static const char *const founds[] = { "working", "dead", "card-full", "disturbed", "gone", NULL };
static const char *const states[] = { "working", "dead", NULL };
static const char *const actions[] = { "none", "swapped", "charged", "cleaned", "repaired", "removed", NULL };
static const char *const causes[] = { "moisture", "insects", "animal", "fall", "flood", "theft", "age", "unknown", NULL };
/* Trade sizes of round cells; a block is a battery that is not taken apart. */
static const char *const cell_sizes[] = { "AAA", "AA", "C", "D", "9V", "18650", "21700", "block", NULL };
static const char *const happenings[] = { "damage", "failure", "loss", "repair", "cleaning", "check", NULL };
static const char *const goods[] = { "cells", "card", "housing", "desiccant", "tape", "other", NULL };
static const char *const types[] = { "animal", "human", "vehicle", "blank", "unknown", "unclassified", NULL };
static const char *const sexes[] = { "female", "male", NULL };
static const char *const stages[] = { "adult", "subadult", "juvenile", NULL };

#define TEXT(name, label) { name, name, label, TPT_COLUMN_TEXT }
#define CODE(name, label) { name, name, label, TPT_COLUMN_TEXT, TRUE }
#define REAL(name, label, lo, hi, unit) { name, name, label, TPT_COLUMN_REAL, FALSE, lo, hi, unit }
#define COUNT(name, column, label, lo, hi) { name, column, label, TPT_COLUMN_INTEGER, FALSE, lo, hi }
#define AT(name, column, label, required) { name, column, label, TPT_COLUMN_INSTANT, required }
#define DATE(name, label) { name, name, label, TPT_COLUMN_DATE }
#define CLOCK(name, label) { name, name, label, TPT_COLUMN_READING }
#define CHOICE(name, label, words) { name, name, label, TPT_COLUMN_CHOICE, FALSE, 0, 0, NULL, words }
#define NEEDED_CHOICE(name, label, words) { name, name, label, TPT_COLUMN_CHOICE, TRUE, 0, 0, NULL, words }
#define REF(name, column, label, required, table) \
  { name, column, label, TPT_COLUMN_REFERENCE, required, 0, 0, NULL, NULL, table }

static const TptColumn station_columns[] = {
  CODE ("station", N_("Code")),
  TEXT ("name", N_("Name")),
  REAL ("latitude", N_("Latitude"), -90, 90, "°"),
  REAL ("longitude", N_("Longitude"), -180, 180, "°"),
  REAL ("uncertainty_m", N_("Position within"), 0, 1e6, "m"),
  REAL ("elevation_m", N_("Elevation"), -500, 9000, "m"),
  TEXT ("feature", N_("Feature")),
  TEXT ("habitat", N_("Habitat")),
  CHOICE ("sensitivity", N_("Sensitivity"), sensitivities),
  TEXT ("access", N_("Access")),
  TEXT ("notes", N_("Notes")),
};

static const TptColumn unit_columns[] = {
  CODE ("unit", N_("Code")),
  NEEDED_CHOICE ("kind", N_("Kind"), kinds),
  TEXT ("label", N_("Label")),
  TEXT ("make", N_("Make")),
  TEXT ("model", N_("Model")),
  TEXT ("serial", N_("Serial number")),
  DATE ("acquired", N_("Acquired")),
  DATE ("retired", N_("Retired")),
  CHOICE ("retire_cause", N_("Cause of retirement"), causes),
  TEXT ("housing", N_("Housing")),
  CHOICE ("sensor", N_("Sensor"), sensors),
  CHOICE ("chemistry", N_("Cells"), chemistries),
  CHOICE ("cell_size", N_("Size of cells"), cell_sizes),
  COUNT ("cells_series", "cells_series", N_("Cells in series"), 1, 100),
  COUNT ("cells_parallel", "cells_parallel", N_("Strings in parallel"), 1, 100),
  REAL ("cell_mah", N_("Charge of a cell"), 0, 1e6, "mAh"),
  REAL ("sleep_ma", N_("Current asleep"), 0, 1e5, "mA"),
  REAL ("awake_ma", N_("Current awake"), 0, 1e5, "mA"),
  REAL ("awake_s", N_("Awake per trigger"), 0, 86400, "s"),
  REAL ("frame_mas", N_("Charge per frame"), 0, 1e6, "mA s"),
  REAL ("flash_ws", N_("Energy of a full flash"), 0, 1e5, "W s"),
  REAL ("power_fraction", N_("Flash power"), 0, 1, NULL),
  REAL ("capacity_gb", N_("Capacity"), 0, 1e5, "GB"),
  TEXT ("notes", N_("Notes")),
};

static const TptColumn deployment_columns[] = {
  CODE ("deployment", N_("Code")),
  REF ("station", "station_id", N_("Station"), TRUE, TPT_TABLE_STATIONS),
  AT ("start", "start_at", N_("Start"), TRUE),
  AT ("end", "end_at", N_("End"), FALSE),
  COUNT ("frames_per_trigger", "frames_per_trigger", N_("Frames per trigger"), 1, 1000),
  REAL ("frame_mb", N_("Size of a frame"), 0, 1e5, "MB"),
  REAL ("sensor_height_m", N_("Height of the sensor"), 0, 100, "m"),
  REAL ("heading_deg", N_("Heading"), 0, 360, "°"),
  REAL ("focal_mm", N_("Focal length"), 0, 5000, "mm"),
  REAL ("focus_m", N_("Focus distance"), 0, 1000, "m"),
  REAL ("iso", N_("ISO"), 0, 1e6, NULL),
  REAL ("temperature_c", N_("Temperature"), -60, 60, "°C"),
  REAL ("camera_clock_offset_s", N_("Clock correction"), -1e9, 1e9, "s"),
  TEXT ("notes", N_("Notes")),
};

static const TptColumn fitting_columns[] = {
  REF ("deployment", "deployment_id", N_("Deployment"), TRUE, TPT_TABLE_DEPLOYMENTS),
  REF ("unit", "unit_id", N_("Unit"), TRUE, TPT_TABLE_UNITS),
  AT ("from", "from_at", N_("From"), TRUE),
  AT ("to", "to_at", N_("To"), FALSE),
};

static const TptColumn visit_columns[] = {
  CODE ("visit", N_("Code")),
  REF ("station", "station_id", N_("Station"), TRUE, TPT_TABLE_STATIONS),
  AT ("at", "at", N_("When"), TRUE),
  TEXT ("people", N_("Who")),
  CHOICE ("found", N_("Found"), founds),
  CLOCK ("camera_clock", N_("Camera’s clock")),
  AT ("true_clock", "true_clock", N_("True time"), FALSE),
  COUNT ("frames_on_card", "frames_on_card", N_("Frames on card"), 0, 1e7),
  { "left", "left_as", N_("Left"), TPT_COLUMN_TEXT },
  TEXT ("notes", N_("Notes")),
};

static const TptColumn reading_columns[] = {
  REF ("visit", "visit_id", N_("Visit"), TRUE, TPT_TABLE_VISITS),
  REF ("unit", "unit_id", N_("Unit"), TRUE, TPT_TABLE_UNITS),
  CHOICE ("state", N_("State"), states),
  REAL ("volts", N_("Volts"), 0, 1000, "V"),
  REAL ("percent", N_("Charge left"), 0, 100, "%"),
  CHOICE ("action", N_("Done"), actions),
  REF ("replacement", "replacement_id", N_("Replaced by"), FALSE, TPT_TABLE_UNITS),
  TEXT ("notes", N_("Notes")),
};

/* What happened to a unit apart from visits. */
static const TptColumn unit_log_columns[] = {
  CODE ("entry", N_("Code")),
  REF ("unit", "unit_id", N_("Unit"), TRUE, TPT_TABLE_UNITS),
  AT ("at", "at", N_("When"), TRUE),
  NEEDED_CHOICE ("what", N_("What happened"), happenings),
  CHOICE ("cause", N_("Cause"), causes),
  { "by", "by_whom", N_("Who"), TPT_COLUMN_TEXT },
  TEXT ("notes", N_("Notes")),
};

/* What lies on the shelf by the piece, without a log of its own. */
static const TptColumn stock_columns[] = {
  CODE ("item", N_("Code")),
  { "what", "what", N_("What"), TPT_COLUMN_CHOICE, TRUE, 0, 0, NULL, goods },
  TEXT ("label", N_("Label")),
  CHOICE ("cell_size", N_("Size of cells"), cell_sizes),
  CHOICE ("chemistry", N_("Cells"), chemistries),
  REAL ("cell_mah", N_("Charge of a cell"), 0, 1e6, "mAh"),
  REAL ("capacity_gb", N_("Capacity"), 0, 1e5, "GB"),
  { "pieces", "pieces", N_("Pieces"), TPT_COLUMN_INTEGER, TRUE, 0, 1e6 },
  TEXT ("place", N_("Place")),
  TEXT ("notes", N_("Notes")),
};

static const TptColumn species_columns[] = {
  CODE ("scientific_name", N_("Scientific name")),
  TEXT ("rank", N_("Rank")),
  CHOICE ("sensitivity", N_("Sensitivity"), sensitivities),
};

static const TptColumn frame_columns[] = {
  CODE ("frame", N_("Code")),
  REF ("deployment", "deployment_id", N_("Deployment"), TRUE, TPT_TABLE_DEPLOYMENTS),
  { "file", "file", N_("File"), TPT_COLUMN_TEXT, TRUE },
  CLOCK ("camera_time", N_("Camera’s time")),
  TEXT ("sha256", N_("SHA-256")),
  COUNT ("bytes", "bytes", N_("Size"), 0, 1e12),
};

static const TptColumn observation_columns[] = {
  CODE ("observation", N_("Code")),
  REF ("deployment", "deployment_id", N_("Deployment"), TRUE, TPT_TABLE_DEPLOYMENTS),
  AT ("start", "start_at", N_("Start"), TRUE),
  AT ("end", "end_at", N_("End"), FALSE),
  NEEDED_CHOICE ("type", N_("Type"), types),
  REF ("scientific_name", "species_id", N_("Species"), FALSE, TPT_TABLE_SPECIES),
  COUNT ("count", "count", N_("Count"), 1, 1e6),
  CHOICE ("sex", N_("Sex"), sexes),
  CHOICE ("life_stage", N_("Life stage"), stages),
  TEXT ("behaviour", N_("Behaviour")),
  TEXT ("individual", N_("Individual")),
  TEXT ("identified_by", N_("Identified by")),
  AT ("identified_at", "identified_at", N_("Identified at"), FALSE),
  REAL ("certainty", N_("Certainty"), 0, 1, NULL),
  TEXT ("notes", N_("Notes")),
  COUNT ("opinion", "opinion", N_("Opinion"), 1, 99), /* 2 and more are kept beside the first and count for nothing */
};

#define TABLE(id, name, singular, columns, keys) \
  [id] = { id, name, singular, columns, G_N_ELEMENTS (columns), keys }

static const TptTable tables[TPT_N_TABLES] = {
  TABLE (TPT_TABLE_STATIONS, "stations", N_("station"), station_columns, 1),
  TABLE (TPT_TABLE_UNITS, "units", N_("unit"), unit_columns, 1),
  TABLE (TPT_TABLE_DEPLOYMENTS, "deployments", N_("deployment"), deployment_columns, 1),
  TABLE (TPT_TABLE_FITTINGS, "fittings", N_("fitting"), fitting_columns, 3),
  TABLE (TPT_TABLE_VISITS, "visits", N_("visit"), visit_columns, 1),
  TABLE (TPT_TABLE_READINGS, "readings", N_("reading"), reading_columns, 2),
  TABLE (TPT_TABLE_SPECIES, "species", N_("species"), species_columns, 1),
  TABLE (TPT_TABLE_FRAMES, "frames", N_("frame"), frame_columns, 1),
  TABLE (TPT_TABLE_OBSERVATIONS, "observations", N_("observation"), observation_columns, 1),
  TABLE (TPT_TABLE_UNIT_LOG, "unit_log", N_("log entry"), unit_log_columns, 1),
  TABLE (TPT_TABLE_STOCK, "stock", N_("stock item"), stock_columns, 1),
};

const TptTable *
tpt_table_get (TptTableId id)
{
  g_return_val_if_fail (id < TPT_N_TABLES, NULL);

  return &tables[id];
}

int
tpt_table_find (const TptTable *table, const char *name)
{
  for (guint i = 0; i < table->n_columns; i++)
    if (g_str_equal (table->columns[i].name, name))
      return (int) i;
  return -1;
}

/* Which table a header belongs to is told by its required columns: a file
 * must have them all. Where several tables fit (a visits header also holds
 * everything stations need), the one with the most columns named wins. */
static int
count_fit (const TptTable *table, const char *const *names)
{
  int known = 0;

  for (guint i = 0; i < table->n_columns; i++)
    {
      gboolean there = g_strv_contains (names, table->columns[i].name);

      if (table->columns[i].required && !there)
        return -1;
      known += there;
    }
  return known;
}

const TptTable *
tpt_table_recognise (const char *const *names)
{
  const TptTable *best = NULL;
  int best_fit = 0;

  for (guint i = 0; i < TPT_N_TABLES; i++)
    {
      int fit = count_fit (&tables[i], names);

      if (fit > best_fit)
        {
          best = &tables[i];
          best_fit = fit;
        }
    }
  return best;
}

const char *
tpt_choice_label (const char *choice)
{
  static const struct {
    const char *word;
    const char *label;
  } labels[] = {
    { "none", N_("None") },
    { "low", N_("Low") },
    { "medium", N_("Medium") },
    { "high", N_("High") },
    { "extreme", N_("Extreme") },
    { "camera", N_("Camera") },
    { "trigger", N_("Trigger") },
    { "flash", N_("Flash") },
    { "pack", N_("Power pack") },
    { "card", N_("Card") },
    { "housing", N_("Housing") },
    { "other", N_("Other") },
    { "active-beam", N_("Active beam") },
    { "passive-infrared", N_("Passive infrared") },
    { "alkaline", N_("Alkaline") },
    { "nimh", N_("NiMH") },
    { "lithium", N_("Lithium iron disulphide") },
    { "li-ion", N_("Li-ion") },
    { "lead-acid", N_("Sealed lead-acid") },
    { "working", N_("Working") },
    { "dead", N_("Dead") },
    { "card-full", N_("Card full") },
    { "disturbed", N_("Disturbed") },
    { "gone", N_("Gone") },
    { "swapped", N_("Swapped") },
    { "charged", N_("Charged") },
    { "cleaned", N_("Cleaned") },
    { "repaired", N_("Repaired") },
    { "removed", N_("Removed") },
    { "AAA", N_("AAA (R03)") },
    { "AA", N_("AA (R6)") },
    { "C", N_("C (R14)") },
    { "D", N_("D (R20)") },
    { "9V", N_("9 V (6F22)") },
    { "18650", N_("18650 (18 × 65 mm)") },
    { "21700", N_("21700 (21 × 70 mm)") },
    { "block", N_("Block") },
    { "damage", N_("Damage") },
    { "failure", N_("Failure") },
    { "loss", N_("Loss") },
    { "repair", N_("Repair") },
    { "cleaning", N_("Cleaning") },
    { "check", N_("Check") },
    { "cells", N_("Cells") },
    { "desiccant", N_("Desiccant") },
    { "tape", N_("Tape") },
    { "moisture", N_("Moisture") },
    { "insects", N_("Insects") },
    { "animal", N_("Animal") },
    { "fall", N_("Fall") },
    { "flood", N_("Flood") },
    { "theft", N_("Theft") },
    { "age", N_("Age") },
    { "unknown", N_("Unknown") },
    { "human", N_("Human") },
    { "vehicle", N_("Vehicle") },
    { "blank", N_("Blank") },
    { "unclassified", N_("Unclassified") },
    { "female", N_("Female") },
    { "male", N_("Male") },
    { "adult", N_("Adult") },
    { "subadult", N_("Subadult") },
    { "juvenile", N_("Juvenile") },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (labels); i++)
    if (g_str_equal (labels[i].word, choice))
      return _(labels[i].label);
  return choice;
}

char *
tpt_choice_inline (const char *choice)
{
  const char *label = tpt_choice_label (choice);

  if (g_str_equal (choice, "nimh") || g_str_equal (choice, "li-ion"))
    return g_strdup (label);
  if (g_strv_contains (cell_sizes, choice) && !g_str_equal (choice, "block"))
    return g_strdup (choice);
  return g_utf8_strdown (label, -1);
}
