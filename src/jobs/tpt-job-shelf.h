/* Every unit of the project with where it is, and the goods in stock. */
#pragma once

#include "tpt-job.h"
#include "tpt-unit-item.h"

G_BEGIN_DECLS

#define TPT_TYPE_JOB_SHELF (tpt_job_shelf_get_type ())
G_DECLARE_FINAL_TYPE (TptJobShelf, tpt_job_shelf, TPT, JOB_SHELF, TptJob)

/* @on: the moment of asking, %TPT_NO_INSTANT for now. */
TptJobShelf *tpt_job_shelf_new (TptInstant on);

/* (transfer none): #TptUnitItem of every unit, by kind and code. */
GListModel *tpt_job_shelf_get_units (TptJobShelf *self);
/* (transfer none): #TptRecord of the stock, by what it is and its label. */
GListModel *tpt_job_shelf_get_stock (TptJobShelf *self);

G_END_DECLS
