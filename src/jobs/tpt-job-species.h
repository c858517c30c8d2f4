/* The species of a project, and a list to begin with. */
#pragma once

#include "tpt-job.h"
#include "tpt-record.h"

G_BEGIN_DECLS

/**
 * TptSpeciesEntry:
 * @record: (owned): with its common names
 * @title: (owned): its name in the reader's language, else its scientific one
 * @seen: observations of it
 */
typedef struct {
  TptRecord *record;
  char *title;
  gint64 seen;
} TptSpeciesEntry;

#define TPT_TYPE_JOB_SPECIES (tpt_job_species_get_type ())
G_DECLARE_FINAL_TYPE (TptJobSpecies, tpt_job_species, TPT, JOB_SPECIES, TptJob)

TptJobSpecies *tpt_job_species_new (void);

/* (transfer none) (element-type TptSpeciesEntry): by title. */
GPtrArray *tpt_job_species_get_entries (TptJobSpecies *self);

/* How many species of the starter list are not on record; 0 where the list is
 * not for this project's region. */
guint tpt_job_species_get_starters (TptJobSpecies *self);

#define TPT_TYPE_JOB_STARTER (tpt_job_starter_get_type ())
G_DECLARE_FINAL_TYPE (TptJobStarter, tpt_job_starter, TPT, JOB_STARTER, TptJob)

/* Adds what is missing of the starter list, as one action. Species on record
 * stay as they are. Refused with TPT_ERROR_USAGE outside its region. */
TptJobStarter *tpt_job_starter_new (void);
guint tpt_job_starter_get_added (TptJobStarter *self);

G_END_DECLS
