"""Makes gaussian_process.txt: `python gaussian_process.py > gaussian_process.txt`, scikit-learn 1.9.1, numpy 2.4.6."""
import numpy as np
from sklearn.gaussian_process import GaussianProcessRegressor as GPR
from sklearn.gaussian_process.kernels import ConstantKernel as C, Matern, WhiteKernel as W
rng=np.random.default_rng(20261127)
for n,d in [(12,1),(25,3),(40,6)]:
    X=rng.random((n,d)); y=np.sin(4*X[:,0])+X.sum(1)*.3+.3*rng.standard_normal(n)
    ls=rng.uniform(.3,1.5,d); sig=float(rng.uniform(.5,1.5)); noi=float(rng.uniform(.2,.6))
    k=C(sig**2)*Matern(length_scale=ls,nu=2.5)+W(noi**2)
    g=GPR(k,optimizer=None,alpha=0).fit(X,y)
    Q=rng.random((4,d)); m,cov=g.predict(Q,return_cov=True)
    # WhiteKernel adds the noise on the diagonal of the predictive covariance; the surface is without it
    sd=np.sqrt(np.diag(cov)-noi**2)
    f=lambda a:" ".join(repr(float(v)) for v in np.ravel(a))
    print("case",n,d); print("hyper",f([sig,noi]),f(ls)); print("x",f(X)); print("y",f(y))
    print("likelihood",f(g.log_marginal_likelihood_value_)); print("at",f(Q)); print("mean",f(m)); print("sd",f(sd))
