/* Parts of taking in a card: what is told of it, and how it goes on record. */
#pragma once

#include "tpt-card-match-private.h"
#include "tpt-intake-run.h"
#include "tpt-job-intake.h"
#include "tpt-store.h"

G_BEGIN_DECLS

struct _TptJobIntake {
  TptJob parent_instance;

  /* Input arguments */
  char *deployment;  /* (owned) */
  char *card;        /* (owned) */
  char *pictures;    /* (owned): below the project's folder */
  char *clock_read;  /* (owned) (nullable) */
  char *clock_true;  /* (owned) (nullable) */
  GStrv wanted;      /* (owned) (nullable): steps */
  gboolean repair;
  gboolean verify_only;

  /* In-progress data */
  TptStore *store;   /* (unowned) */
  GError *failure;   /* (owned) (nullable): of a question asked during the copy */
  TptRecord *record; /* (owned): the deployment */
  char *prefix;      /* (owned): folder of this card below pictures */
  TptCardRecords *records; /* (owned) */
  TptCardFacts *facts;     /* (owned) */
  gint64 begun_us;   /* monotonic */

  /* Results */
  char *batch;       /* (owned) (nullable) */
  TptIntake *intake; /* (owned) (nullable) */
  GPtrArray *unreadable, *damaged, *missing, *doubts; /* (owned) */
  GPtrArray *steps, *objections; /* (owned) */
  char *model, *serial; /* (owned) (nullable) */
  gboolean safe;
  char *why_not;     /* (owned) (nullable) */
};

/* Where pictures go below the project's folder unless told otherwise. */
#define TPT_JOB_INTAKE_PICTURES "pictures"

/* (transfer full): the folder of a deployment's pictures, with a name every
 * system takes: letters, digits, dash, underscore. */
char *tpt_job_intake_make_prefix (const char *deployment);

/* (transfer full) (nullable): pictures are found from the project file's folder. */
char *tpt_job_intake_get_path (TptJobIntake *self, const char *file);

/* Fills in the results that say what happened and what is in doubt. */
void tpt_job_intake_tell (TptJobIntake *self);

/* Puts everything on record in one action. */
gboolean tpt_job_intake_record (TptJobIntake *self, GError **error);

G_END_DECLS
