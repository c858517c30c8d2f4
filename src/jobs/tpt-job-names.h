/* The species of a project as names to choose from, likeliest first. */
#pragma once

#include "tpt-job.h"

G_BEGIN_DECLS

/**
 * TptName:
 * @species: (owned): scientific name
 * @common: (owned) (nullable): in the language asked for
 * @names: (owned): all its names, folded for searching, one a line
 * @here: how often this station has seen it within two hours of this time of day
 * @station: how often this station has seen it
 * @project: how often the project has
 */
typedef struct {
  char *species;
  char *common;
  char *names;
  gint64 here;
  gint64 station;
  gint64 project;
} TptName;

#define TPT_TYPE_JOB_NAMES (tpt_job_names_get_type ())
G_DECLARE_FINAL_TYPE (TptJobNames, tpt_job_names, TPT, JOB_NAMES, TptJob)

/**
 * tpt_job_names_new:
 * @station: (nullable): code
 * @minute: of the local day, 0 to 1439; -1 any
 * @language: (nullable): of @common, such as "en"; %NULL for the reader's own
 *
 * Ranked by @here, @station, @project, then by name.
 */
TptJobNames *tpt_job_names_new (const char *station, int minute, const char *language);

/* (transfer none) (element-type TptName) */
GPtrArray *tpt_job_names_get_names (TptJobNames *self);

/**
 * tpt_names_search:
 * @names: (element-type TptName): as ranked
 * @text: what was typed, in any case, with or without accents
 *
 * Returns: (transfer container) (element-type TptName): those in which every word of @text
 *   begins a word of a name, scientific or common in any language; as ranked
 */
GPtrArray *tpt_names_search (GPtrArray *names, const char *text);

G_END_DECLS
