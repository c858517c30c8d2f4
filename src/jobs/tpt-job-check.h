/* Looks a project over: SQLite, references, GeoPackage rules, journal, and on
 * request every picture's size and content. */
#pragma once

#include "tpt-job.h"

G_BEGIN_DECLS

#define TPT_TYPE_JOB_CHECK (tpt_job_check_get_type ())
G_DECLARE_FINAL_TYPE (TptJobCheck, tpt_job_check, TPT, JOB_CHECK, TptJob)

/* @pictures: also read every picture and compare it with its SHA-256. */
TptJobCheck *tpt_job_check_new (gboolean pictures);

/* (element-type utf8): one sentence per problem. */
GPtrArray *tpt_job_check_get_problems (TptJobCheck *self);

G_END_DECLS
