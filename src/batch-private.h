/* Shared by the parts of the terminal command. */
#pragma once

#include <json-glib/json-glib.h>

#include "tpt-error.h"
#include "tpt-filter.h"
#include "tpt-project.h"

G_BEGIN_DECLS

#define BATCH_DONE 0
#define BATCH_IN_PART 1
#define BATCH_USAGE 2
#define BATCH_PROJECT 3

/* What the command line said. Options a command does not know are refused
 * before it runs. */
typedef struct {
  GPtrArray *words; /* (owned): what is left after the options, command word first */
  gboolean json;
  gboolean dry_run, lenient, verify_only, exact, pictures_check, blanks, again;
  char *name, *zone, *deployment, *pictures, *clock_read, *clock_true;
  char *on, *until, *from, *to, *hours, *by, *gap_from, *independence, *occasion_days;
  char *output, *size, *language, *clock;
  char *points, *boot, *seed, *against_from, *against_to;
  GStrv stations, species, types;
  gboolean undecided, disagreeing, marked, blank_first, blank_last, besides, take_back;
  char *batch, *certainty_below, *limit;
  gboolean look, repair_clock, bare;
  GStrv apply;
  char *count, *sex, *life_stage, *behaviour, *individual, *notes, *certainty;
} BatchOptions;

typedef struct {
  const char *word;
  const char *options;  /* letters of the groups in batch.c */
  int min_words, max_words; /* beside the command word; -1: any number */
  int (*run) (BatchOptions *options);
  const char *usage;
  const char *help;
} BatchCommand;

int batch_new (BatchOptions *options);
int batch_demo (BatchOptions *options);
int batch_import (BatchOptions *options);
int batch_export (BatchOptions *options);
int batch_intake (BatchOptions *options);
int batch_clock (BatchOptions *options);
int batch_check (BatchOptions *options);
int batch_due (BatchOptions *options);
int batch_effort (BatchOptions *options);
int batch_rates (BatchOptions *options);
int batch_occupancy (BatchOptions *options);
int batch_richness (BatchOptions *options);
int batch_activity (BatchOptions *options);
int batch_overlap (BatchOptions *options);
int batch_sun (BatchOptions *options);
int batch_figure (BatchOptions *options);
int batch_lives (BatchOptions *options);
int batch_blanks (BatchOptions *options); /* rates --blanks */
int batch_sheet (BatchOptions *options);
int batch_frames (BatchOptions *options);
int batch_batches (BatchOptions *options);
int batch_name (BatchOptions *options);
int batch_score (BatchOptions *options);

/* Prints @error and frees it; returns the exit status it stands for. */
int batch_fail (GError *error);

/* Opens the project in the first word after the command. */
TptProject *batch_open (BatchOptions *options, GError **error);

/* Runs @job; progress goes to standard error when that is a terminal. */
gboolean batch_run (TptProject *project, TptJob *job, GError **error);

/* Reads the filter options; (transfer full) (nullable). */
TptFilter *batch_filter (BatchOptions *options, TptZone *zone, GError **error);

/* A moment on the command line; TPT_NO_INSTANT with no @error when @text is NULL. */
gboolean batch_moment (const char *text, TptZone *zone, TptInstant *instant, GError **error);

/* A period on the command line, either end open when its text is NULL. One that ends before it
 * begins is refused; one that ends where it begins is empty. */
gboolean batch_period (const char *from, const char *to, TptZone *zone, TptRange *range, GError **error);

/* --clock: whether hours are those of the sun's day; of the clock without it. */
gboolean batch_by_sun (BatchOptions *options, gboolean *by_sun, GError **error);

/* --on and --until. */
gboolean batch_moments (BatchOptions *options, TptProject *project, TptInstant *on, TptInstant *until, GError **error);

/* One JSON document on standard output; takes @builder. */
void batch_print_json (JsonBuilder *builder);

/* Members of the object being built; NAN and TPT_NO_INSTANT become null. */
void batch_add_text (JsonBuilder *builder, const char *name, const char *value);
void batch_add_real (JsonBuilder *builder, const char *name, double value);
void batch_add_count (JsonBuilder *builder, const char *name, gint64 value);
void batch_add_flag (JsonBuilder *builder, const char *name, gboolean value);
void batch_add_words (JsonBuilder *builder, const char *name, GPtrArray *words); /* an array of texts */
void batch_add_instant (JsonBuilder *builder, const char *name, TptInstant value, TptZone *zone);
void batch_add_pair (JsonBuilder *builder, const char *name, double low, double high);

/* (element-type utf8): a line each, on standard error. */
void batch_tell_words (GPtrArray *words);

/* (element-type TptClockStep): what could be or was done about a clock. */
void batch_add_steps (JsonBuilder *builder, GPtrArray *steps, TptZone *zone);
void batch_print_steps (GPtrArray *steps);

/* The command intake before anything is taken in: --look, and filling in the only
 * deployment that nothing speaks against. */
int batch_look (TptProject *project, BatchOptions *options);
gboolean batch_choose_deployment (TptProject *project, BatchOptions *options, GError **error);

/* A table on standard output with columns of even width. A header that begins
 * with '>' is set to the right. */
typedef struct _BatchTable BatchTable;
BatchTable *batch_table_new (const char *first_header, ...) G_GNUC_NULL_TERMINATED;
void batch_table_add (BatchTable *table, const char *cell); /* NULL: "-" */
void batch_table_add_real (BatchTable *table, double value, int decimals);
void batch_table_add_count (BatchTable *table, gint64 value);
void batch_table_add_day (BatchTable *table, TptInstant instant, TptZone *zone);
void batch_table_print (BatchTable *table); /* and frees it */

G_END_DECLS
